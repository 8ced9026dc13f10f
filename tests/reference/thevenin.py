"""Write `thevenin.toml` with PyBaMM: sag under a load over time. Not part of the tests.

    python tests/reference/thevenin.py > tests/reference/thevenin.toml

The example circuit of one RC branch (ECM_Example, a cell of 100 Ah) with capacity over 1000 and resistances times 1000,
so that it is one of 100 mAh: 100 mA from state of charge 0.9, held at 25 °C. And the resistance of three
Doyle-Fuller-Newman cells, half full at 25 °C, from the fall of their voltage 1 s and 10 s into a load of 1C.
"""

import warnings

import numpy as np
import pybamm

SETS = ("Ai2020", "Ecker2015", "Marquis2019")
TIMES = (0.0, 5.0, 10.0, 20.0, 30.0, 60.0)
SCALE = 1000.0


def circuit() -> None:
    """Print the run of the circuit."""
    values = pybamm.ParameterValues("ECM_Example")
    values.update({"Current function [A]": 100.0, "Initial SoC": 0.9, "Entropic change [V/K]": 0.0})
    isothermal = {"Ambient temperature [K]": 298.15, "Initial temperature [K]": 298.15}
    values.update({**isothermal, "Cell thermal mass [J/K]": 1e12, "Jig thermal mass [J/K]": 1e12})
    model = pybamm.equivalent_circuit.Thevenin(options={"number of rc elements": 1})
    simulation = pybamm.Simulation(model, parameter_values=values, solver=pybamm.IDAKLUSolver(rtol=1e-8, atol=1e-10))
    solution = simulation.solve([0, 60], t_interp=list(TIMES))
    rest, loaded = (solution[name](np.array(TIMES)) for name in ("Open-circuit voltage [V]", "Voltage [V]"))
    print("[circuit]\ncapacity_mah = 100.0\ncurrent_ma = 100.0\nstart = 0.9")
    r0, r1, c1 = (solution[name].entries[0] for name in ("R0 [Ohm]", "R1 [Ohm]", "C1 [F]"))
    print(f"r0_ohm = {r0 * SCALE:.5f}\nr1_ohm = {r1 * SCALE:.5f}\ntau_s = {r1 * c1:.3f}")
    print("# [seconds, volts at rest at that charge, volts under the load]\nrows = [")
    for time, at_rest, under in zip(TIMES, rest, loaded, strict=True):
        print(f"  [{time}, {float(at_rest):.5f}, {float(under):.5f}],")
    print("]\n")


def pulse(name: str) -> tuple[float, float]:
    """Return resistance times capacity [mohm Ah] after 1 s and after 10 s."""
    values = pybamm.ParameterValues(name)
    nominal_ah = float(values["Nominal cell capacity [A.h]"])
    kelvin = {"Ambient temperature [K]": 298.15, "Initial temperature [K]": 298.15}
    values.update({**kelvin, "Current function [A]": nominal_ah})
    simulation = pybamm.Simulation(pybamm.lithium_ion.DFN(), parameter_values=values, solver=pybamm.IDAKLUSolver())
    solution = simulation.solve([0, 10], initial_soc=0.5, t_interp=[0, 1, 10])
    rest, loaded = (solution[each](np.array([1.0, 10.0])) for each in ("Bulk open-circuit voltage [V]", "Voltage [V]"))
    return float(1e3 * (rest[0] - loaded[0])), float(1e3 * (rest[1] - loaded[1]))


def main() -> None:
    """Print the tables."""
    warnings.filterwarnings("ignore")
    pybamm.set_logging_level("ERROR")
    print("# Written by thevenin.py beside this file; not by hand.")
    print(f'source = "PyBaMM {pybamm.__version__}: Thevenin model, ECM_Example; DFN model, three parameter sets"')
    print('mark = "computed outside this project"\n')
    circuit()
    print("# resistance times capacity [mohm Ah], half full, 25 °C, after 1 s and 10 s of 1C\n[pulse]")
    for name in SETS:
        after_1, after_10 = pulse(name)
        print(f"{name} = [{after_1:.1f}, {after_10:.1f}]")


if __name__ == "__main__":
    main()

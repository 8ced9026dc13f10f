"""Write `constant_power.toml` with PyBaMM: runs of a small cell at constant power. Not part of the tests.

    python tests/reference/constant_power.py > tests/reference/constant_power.toml

PyBaMM's Thevenin model without RC elements, operating mode "power"; piecewise-linear open-circuit voltage, constant
resistance, from state of charge 0.9999 to a voltage cut-off. The lumped thermal model runs but changes nothing, since
no parameter here depends on temperature.
"""

import numpy as np
import pybamm

STATE = [0.0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1.0]
VOLTS = [3.0, 3.55, 3.68, 3.74, 3.78, 3.82, 3.87, 3.94, 4.02, 4.10, 4.20]
CASES = [  # capacity mAh, resistance ohm, power W, cut-off V
    (30.0, 0.8, 0.100, 3.3),
    (30.0, 0.8, 0.200, 3.3),
    (30.0, 1.6, 0.300, 3.2),
    (80.0, 0.43, 0.500, 3.3),
    (100.0, 0.0001, 0.250, 3.4),
]


def open_circuit(state):
    """Return the piecewise-linear voltage at rest."""
    return pybamm.Interpolant(np.array(STATE), np.array(VOLTS), state, "OCV")


def seconds(capacity_mah: float, ohm: float, watt: float, cutoff_v: float) -> float:
    """Return the time to the cut-off [s]."""
    model = pybamm.equivalent_circuit.Thevenin(options={"operating mode": "power", "number of rc elements": 0})
    values = pybamm.ParameterValues("ECM_Example")
    values.update(
        {
            "Cell capacity [A.h]": capacity_mah / 1e3,
            "Nominal cell capacity [A.h]": capacity_mah / 1e3,
            "Initial SoC": 0.9999,
            "Open-circuit voltage [V]": open_circuit,
            "R0 [Ohm]": ohm,
            "Lower voltage cut-off [V]": cutoff_v,
            "Upper voltage cut-off [V]": 4.25,
            "Power function [W]": watt,
            "Entropic change [V/K]": 0.0,
        },
        check_already_exists=False,
    )
    solver = pybamm.IDAKLUSolver(rtol=1e-8, atol=1e-10)
    simulation = pybamm.Simulation(model, parameter_values=values, solver=solver)
    solution = simulation.solve([0, 40_000])
    return float(solution["Time [s]"].entries[-1])


def main() -> None:
    """Print the table."""
    print("# Written by constant_power.py beside this file; not by hand.")
    print(f'source = "PyBaMM {pybamm.__version__} Thevenin model, operating mode power, constant resistance"')
    print('mark = "computed outside this project"')
    print(f"state = {STATE}\nvolts = {VOLTS}\nstart = 0.9999\ntolerance_s = 1.0")
    print("# [capacity mAh, resistance ohm, power W, cut-off V, seconds]\nruns = [")
    for case in CASES:
        print(f"  [{', '.join(str(value) for value in case)}, {seconds(*case):.1f}],")
    print("]")


if __name__ == "__main__":
    main()

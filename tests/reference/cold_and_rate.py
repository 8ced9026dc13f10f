"""Write `cold_and_rate.toml` with PyBaMM: what cells give in the cold and drawn fast. Not part of the tests.

    python tests/reference/cold_and_rate.py > tests/reference/cold_and_rate.toml

Doyle-Fuller-Newman model, held at one temperature, constant current from full to 3.3 V, three parameter sets whose
rates follow the temperature: Ai2020 (LiCoO2 pouch), Ecker2015 (NCO/graphite pouch), Marquis2019 (LiCoO2 pouch).
Charge is a share of what the same set gives at 20 °C at C/5, and the rate a multiple of that charge in an hour, as a
cell's label counts it: by its own "nominal capacity" Marquis2019 would give 1.26 of its label. A run that the solver
cannot start, since the voltage is below 3.3 V at once, gives 0.
"""

import sys
import warnings

import pybamm

SETS = ("Ai2020", "Ecker2015", "Marquis2019")
CELSIUS = (-20.0, -10.0, 0.0, 10.0, 20.0)
RATES = (0.2, 0.5, 1.0, 1.5, 2.0, 3.0, 5.0)
NOMINAL = ((0.0, 0.85), (0.0, 1.5), (-10.0, 0.85))  # the same by the sets' own nominal capacities: a second way
CUTOFF_V = 3.3


def charge_ah(name: str, celsius: float, current_a: float) -> float:
    """Return the charge that a cell gives from full to the cut-off [Ah]."""
    values = pybamm.ParameterValues(name)
    values.update(
        {
            "Ambient temperature [K]": celsius + 273.15,
            "Initial temperature [K]": celsius + 273.15,
            "Lower voltage cut-off [V]": CUTOFF_V,
            "Current function [A]": current_a,
        }
    )
    simulation = pybamm.Simulation(pybamm.lithium_ion.DFN(), parameter_values=values, solver=pybamm.IDAKLUSolver())
    longest_s = 2.0 * 3600.0 * values["Nominal cell capacity [A.h]"] / current_a
    try:
        solution = simulation.solve([0, longest_s], initial_soc=1.0)
    except pybamm.SolverError as failed:
        print(name, celsius, current_a, failed, file=sys.stderr)
        return 0.0
    assert "Minimum voltage" in solution.termination
    return float(solution["Discharge capacity [A.h]"].entries[-1])


def table_of(name: str) -> None:
    """Print the table of a parameter set."""
    nominal_ah = float(pybamm.ParameterValues(name)["Nominal cell capacity [A.h]"])
    label_ah = charge_ah(name, 20.0, 0.2 * nominal_ah)
    label_ah = charge_ah(name, 20.0, 0.2 * label_ah)
    print(f"[{name}]\nlabel_over_nominal = {label_ah / nominal_ah:.4f}\n# a row for each temperature\nshare = [")
    for celsius in CELSIUS:
        row = [charge_ah(name, celsius, rate * label_ah) / label_ah for rate in RATES]
        print(f"  [{', '.join(f'{share:.3f}' for share in row)}],", flush=True)
    print("]\n# [celsius, nominal rate, share]\nnominal = [")
    at_fifth_ah = charge_ah(name, 20.0, 0.2 * nominal_ah)
    for celsius, rate in NOMINAL:
        print(f"  [{celsius}, {rate}, {charge_ah(name, celsius, rate * nominal_ah) / at_fifth_ah:.3f}],", flush=True)
    print("]\n")


def main() -> None:
    """Print the tables."""
    warnings.filterwarnings("ignore")
    pybamm.set_logging_level("ERROR")
    print("# Written by cold_and_rate.py beside this file; not by hand.")
    print(f'source = "PyBaMM {pybamm.__version__}, DFN model, isothermal, constant current to {CUTOFF_V} V"')
    print('mark = "computed outside this project"')
    print(f"celsius = {list(CELSIUS)}\nrates = {list(RATES)}\n")
    for name in SETS:
        table_of(name)


if __name__ == "__main__":
    main()

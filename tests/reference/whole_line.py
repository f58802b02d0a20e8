"""Integrates the line of whole-line.scenario.json with SciPy and writes whole-line.json.

Run: /usr/bin/python3 tests/reference/whole_line.py
Equations and their sources: line_equations.py. A second method and the balances of film and power check it.
"""

import os

from line_description import read_line, read_ramps, read_scenario
from line_equations import Equations
from power_balance import greatest_imbalance, instantaneous_imbalance
from report import METHOD, SECOND, figures, greatest_difference, greatest_sample_difference, write
from speed_ramp import SpeedRamp
from trajectory import integrate

HERE = os.path.dirname(os.path.abspath(__file__))
SCENARIO = 'whole-line.scenario.json'


def main():
    scenario = read_scenario(os.path.join(HERE, SCENARIO))
    line = read_line(scenario)
    equations = Equations(line, SpeedRamp(line.start_speed, read_ramps(scenario)))
    run = integrate(equations, METHOD)
    result = figures(equations, run, 'whole_line.py', SCENARIO)
    second = figures(equations, integrate(equations, SECOND), 'whole_line.py', SCENARIO)
    result['checks'] |= {
        'secondMethod': f'{SECOND.method}, rtol {SECOND.rtol}',
        'secondMethodExtremes': greatest_difference(result, second),
        'secondMethodSamples': greatest_sample_difference(result, second),
        'powerImbalanceOverRun': greatest_imbalance(equations, METHOD),
        'powerImbalanceNow': instantaneous_imbalance(equations, run, [0.5, 1.12, 1.33, 1.7, 2.05, 2.5, 4.0, 7.9]),
        'steadyResidual': run.residual,
        'evaluations': run.evaluations,
    }
    write(os.path.join(HERE, 'whole-line.json'), result)
    for name, value in result['checks'].items():
        print(f'{name}: {value}')


if __name__ == '__main__':
    main()

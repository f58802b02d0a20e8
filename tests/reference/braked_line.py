"""Integrates the line of braked-line.scenario.json, with its flying splice, and writes braked-line.json.

Run: /usr/bin/python3 tests/reference/braked_line.py         the new roll is film B only, lap and wound-in stretch
     /usr/bin/python3 tests/reference/braked_line.py tape    the other reading: while the patch leaves, lap and wound-in
                                                             stretch are the patch's; prints how far it differs
Conventions at the splice (own derivation, the text leaves some of them open):
  tape = film A, patch (thickness and stiffness of A plus B), film B; boundaries are fixed tape coordinates;
  at the paste no held film changes: F_el is continuous; tension jumps, because film damping feels the jump of q_0;
  unwind's speed becomes v* (1 + mismatch)/R_new, the line's set speed and not the film's; the trim's integral is kept;
  the rewind builds up by the lap of the piece that arrives: A, then patch, then B.
"""

import os
import sys

import numpy as np

from line_description import patch_of, read_line, read_ramps, read_scenario, read_splice
from line_equations import Equations
from power_balance import greatest_imbalance, instantaneous_imbalance
from report import METHOD, SECOND, figures, greatest_difference, greatest_sample_difference, write
from speed_ramp import SpeedRamp
from trajectory import integrate

HERE = os.path.dirname(os.path.abspath(__file__))
SCENARIO = 'braked-line.scenario.json'


def main(convention):
    scenario = read_scenario(os.path.join(HERE, SCENARIO))
    line, splice = read_line(scenario), read_splice(scenario)
    equations = Equations(line, SpeedRamp(line.start_speed, read_ramps(scenario)))
    splicing = {'splice': splice, 'patch': patch_of(line.film, splice.film)}
    run = integrate(equations, METHOD, **splicing)
    result = figures(equations, run, 'braked_line.py', SCENARIO)
    if convention == 'tape':
        taped = integrate(equations, METHOD, convention='tape', **splicing)
        other = figures(equations, taped, 'braked_line.py', SCENARIO)
        print('extremes differ by', greatest_difference(result, other))
        print('samples differ by', greatest_sample_difference(result, other))
        return
    second = figures(equations, integrate(equations, SECOND, **splicing), 'braked_line.py', SCENARIO)
    result['checks'] |= {
        'secondMethod': f'{SECOND.method}, rtol {SECOND.rtol}',
        'secondMethodExtremes': greatest_difference(result, second),
        'secondMethodSamples': greatest_sample_difference(result, second),
        'secondMethodCrossings': greatest_crossing_difference(result, second),
        'powerImbalanceOverRun': greatest_imbalance(equations, METHOD, **splicing),
        'powerImbalanceNow': instantaneous_imbalance(equations, run, [*np.arange(0.2, 9, 0.41), 2.003, 2.05, 2.061]),
        'steadyResidual': run.residual,
        'evaluations': run.evaluations,
    }
    write(os.path.join(HERE, 'braked-line.json'), result)
    for name, value in result['checks'].items():
        print(f'{name}: {value}')


def greatest_crossing_difference(a, b):
    return max(abs(x['time'] - y['time']) for x, y in zip(a['crossings'], b['crossings']))


if __name__ == '__main__':
    main(sys.argv[1] if len(sys.argv) > 1 else 'roll')

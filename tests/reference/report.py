"""Puts a run into the figures that the tests read, and checks that nothing switched which the equations leave out."""

import json
from types import SimpleNamespace as Record

import numpy as np
import scipy

from trajectory import extreme, sample_leg, value_at

# The cap is for the dense output: without it DOP853's steps are right, but a peak read between them is 1e-6 off.
METHOD = Record(method='DOP853', rtol=1e-10, longest_step=1e-3)
SECOND = Record(method='Radau', rtol=1e-10, longest_step=np.inf)
SAMPLE_EVERY = 0.1  # s
DIGITS = 13


def rounded(value):
    return 0.0 if abs(value) < 1e-18 else float(f'{value:.{DIGITS}g}')


def extremes_of(equations, run, sampled, name, read):
    """min, max, their times, the stretch of time within 1e-6 of each, and the values at start and end."""
    low, low_time, low_near = extreme(equations, sampled, name, 1)
    high, high_time, high_near = extreme(equations, sampled, name, -1)
    start, end = read(*value_at(equations, run, 0.0)), read(*value_at(equations, run, equations.line.duration))
    row = {'min': low, 'minAt': low_time, 'max': high, 'maxAt': high_time, 'start': start, 'end': end}
    row = {key: rounded(value) for key, value in row.items()}
    return {**row, 'minNear': [rounded(t) for t in low_near], 'maxNear': [rounded(t) for t in high_near]}


def spans_of(equations, run, sampled):
    line, rows = equations.line, []
    for j in range(line.n):
        rows.append(
            {
                'span': f'{line.rollers[j].name} to {line.rollers[j + 1].name}',
                'tension': extremes_of(equations, run, sampled, f'tension {j}', lambda c, _, j=j: c.tension[j]),
                'elastic': extremes_of(equations, run, sampled, f'elastic {j}', lambda c, _, j=j: c.elastic[j]),
            }
        )
    return rows


def motors_of(equations, run, sampled):
    first, _ = value_at(equations, run, 0.0)
    return {
        equations.line.rollers[i].name: extremes_of(equations, run, sampled, f'motor {i}', lambda c, _, i=i: c.motor[i])
        for i in first.motor
    }


def samples_of(equations, run):
    """Every 0.1 s; at an event the value just after it. Tension jumps there, elastic does not."""
    count = round(equations.line.duration / SAMPLE_EVERY)
    times = [rounded(k * SAMPLE_EVERY) for k in range(count + 1)]
    rows = [value_at(equations, run, t) for t in times]
    return {
        'time': times,
        'tension': [[rounded(c.tension[j]) for c, _ in rows] for j in range(equations.at.n)],
        'elastic': [[rounded(c.elastic[j]) for c, _ in rows] for j in range(equations.at.n)],
        'z': [rounded(y[equations.at.z]) for _, y in rows],
    }


def margins_of(sampled):
    """Least of each margin; every one must be positive, or the equations would have had to switch."""
    names = [name for name in sampled[0][2] if name.startswith('margin')]
    margins = {name[7:]: float(min(np.min(values[name]) for _, _, values in sampled)) for name in names}
    if min(margins.values()) <= 0:
        raise RuntimeError(f'a switch that this computation leaves out: least margins {margins}')
    return margins


def film_imbalance(equations, run):
    """Greatest |unwound - wound - (held - held at the start)| over all steps, m."""
    at, worst = equations.at, 0.0
    first = float(np.sum(run.legs[0].at(0.0)[: at.n]))
    for leg in run.legs:
        y = leg.at(leg.steps)
        worst = max(worst, float(np.max(np.abs(y[at.unwound] - y[at.wound] - np.sum(y[: at.n], axis=0) + first))))
    return worst


def figures(equations, run, script, scenario_file):
    sampled = [(leg, *sample_leg(equations, leg)) for leg in run.legs]
    line, at = equations.line, equations.at
    end = run.legs[-1].y_end
    return {
        'header': {
            'script': f'tests/reference/{script}',
            'scenario': f'tests/reference/{scenario_file}',
            'scipy': scipy.__version__,
            'method': METHOD.method,
            'rtol': METHOD.rtol,
            'longestStep': METHOD.longest_step,
            'atol': 'held film less length 1e-13 m, all other states 1e-12 in SI',
            'states': at.size,
            'units': 'SI',
            'near': 'minNear, maxNear: first and last time at which the trace lies within 1e-6 of the extremum',
            'atEvents': 'extremes count the limits from both sides; samples are taken just after',
        },
        'spans': spans_of(equations, run, sampled),
        'dancer': extremes_of(equations, run, sampled, 'z', lambda _, y: float(y[at.z])),
        'motors': motors_of(equations, run, sampled),
        'unwound': rounded(end[at.unwound]),
        'wound': rounded(end[at.wound]),
        'crossings': [
            {'boundary': x['boundary'], 'roller': line.rollers[x['roller']].name, 'time': rounded(x['time'])}
            for x in run.crossings
        ],
        'samples': samples_of(equations, run),
        'checks': {'leastMargins': margins_of(sampled), 'filmImbalance': film_imbalance(equations, run)},
    }


def greatest_difference(a, b):
    """Greatest relative difference of all extremes, starts and ends of two results; for z relative to its swing."""
    worst = 0.0
    pairs = [(x[kind], y[kind]) for x, y in zip(a['spans'], b['spans']) for kind in ('tension', 'elastic')]
    pairs += [(a['motors'][name], b['motors'][name]) for name in a['motors']] + [(a['dancer'], b['dancer'])]
    for x, y in pairs:
        size = max(abs(x['max']), abs(x['min']))
        worst = max(worst, *(abs(x[key] - y[key]) / size for key in ('min', 'max', 'start', 'end')))
    return worst


def greatest_sample_difference(a, b):
    rows = [(p, q) for kind in ('tension', 'elastic') for p, q in zip(a['samples'][kind], b['samples'][kind])]
    rows.append((a['samples']['z'], b['samples']['z']))
    return max(float(np.max(np.abs(np.array(p) - np.array(q))) / np.max(np.abs(p))) for p, q in rows)


def write(path, result):
    with open(path, 'w', encoding='utf-8') as file:
        json.dump(result, file, indent=1, ensure_ascii=False)
        file.write('\n')

"""Turns a scenario into the input of cvode_line, and writes the two bench scenarios.

    bench_lines.py scenarios                       writes bench-37.scenario.json and bench-85.scenario.json
    bench_lines.py scenarios ramps                 the same with a ramp every second: bench-*-ramps.scenario.json
    bench_lines.py SCENARIO LINE ATOL [RTOL]       writes the line's description and each state's absolute tolerance
    bench_lines.py check SCENARIO                  SciPy's final state of it (DOP853, 1e-12), as a JSON array

The absolute tolerance is RTOL (1e-6 unless told) times a size that matters: 1e-3 of strain times the span's length for
the film held, 1e-3 of the speed for a roller, 1 mm of film, 10 mm and 10 mm/s of the dancer, 1 N m of a servo's
integral, 10 mm s of the trim's.
"""

import json
import os
import sys
from types import SimpleNamespace as Record

from line_description import read_line, read_ramps, read_scenario
from line_equations import Equations
from speed_ramp import SpeedRamp
from steady_state import first_phase, steady_state
from trajectory import integrate

HERE = os.path.dirname(os.path.abspath(__file__))
KINDS = {'none': 0, 'servo': 1, 'torque': 2, 'lag': 3, 'ideal': 4}
LAWS = {'constant': 0, 'linear': 1, 'hyperbolic': 2}


def build(path):
    scenario = read_scenario(path)
    line = read_line(scenario)
    return line, Equations(line, SpeedRamp(line.start_speed, read_ramps(scenario))), scenario


def film_and_speed(line, ramps, stretch):
    film = line.film
    yield 'film', film.EA, film.effective_thickness, film.roll_density, film.width, stretch
    yield 'speed', line.start_speed, len(ramps)
    yield from ramps


def rollers(line):
    yield 'rollers',
    for roller in line.rollers:
        drive = vars(roller.drive)
        yield (
            *(KINDS[roller.drive.kind], roller.radius, roller.nominal_radius, getattr(roller, 'inertia', 0.0)),
            *(roller.drag, roller.viscous_drag, roller.draw),
            *(drive.get(name, 0.0) for name in ('bandwidth', 'damping', 'lag', 'torque_limit')),
        )
    for name, roller in (('unwind', line.rollers[0]), ('rewind', line.rollers[-1])):
        yield name, roller.roll.radius, roller.roll.core_radius, roller.roll.core_inertia


def control(line):
    drive, dancer, trim = vars(line.rollers[-1].drive), line.dancer, line.trim
    yield 'taper', LAWS[drive.get('law', 'constant')], *(drive.get(k, 0.0) for k in ('tension', 'taper', 'full_radius'))
    push = dancer.force + dancer.mass * dancer.gravity
    yield 'dancer', dancer.mass, dancer.stiffness, dancer.damping, push, dancer.spring_zero, dancer.set_point
    yield 'trim', trim.drives, int(trim.kind == 'ratio'), trim.gain, trim.integral, trim.limit, trim.sign


def description(line, equations, scenario):
    phase = first_phase(line, equations.ramp)
    y, _ = steady_state(equations, phase)
    yield from film_and_speed(line, read_ramps(scenario), phase.supply.wound_stretch)
    yield 'spans', line.n
    yield from ((span.length, span.film_damping, span.per_travel) for span in line.spans)
    yield from rollers(line)
    yield from control(line)
    yield 'run', line.duration, 0.01
    yield 'state', len(y)
    yield from ((value,) for value in y)


def absolute_tolerances(line, equations, rtol):
    at = equations.at
    for span in line.spans:
        yield rtol * 1e-3 * span.length
    for i in at.free:
        yield rtol * 1e-3 * line.start_speed / line.rollers[i].nominal_radius
    yield from (rtol * size for size in (1e-3, 1e-3, 1e-2, 1e-2))
    yield from (rtol * 1.0 for _ in at.servos)
    yield rtol * 1e-2


def write_input(scenario_path, line_path, atol_path, rtol):
    line, equations, scenario = build(scenario_path)
    with open(line_path, 'w', encoding='utf-8') as file:
        for row in description(line, equations, scenario):
            file.write(' '.join(x if isinstance(x, str) else f'{float(x):.17g}' for x in row) + '\n')
    with open(atol_path, 'w', encoding='utf-8') as file:
        file.writelines(f'{value:.17g}\n' for value in absolute_tolerances(line, equations, rtol))


def scipy_final(scenario_path):
    line, equations, _ = build(scenario_path)
    run = integrate(equations, Record(method='DOP853', rtol=1e-12, longest_step=1.0))
    final = run.legs[-1].y_end
    return [float(x) + (line.spans[k].length if k < line.n else 0) for k, x in enumerate(final)]


def idlers(first, count):
    """Idlers and the span before each, their sizes in a fixed round so that no two neighbours are alike."""
    parts = []
    for k in range(first, first + count):
        length = ('700 mm', '500 mm', '600 mm', '450 mm')[k % 4]
        wrap = ('90 deg', '60 deg', '120 deg')[k % 3]
        parts.append({'part': 'span', 'length': length, 'filmDamping': '2 ms'})
        parts.append(
            {
                **{'part': 'idler', 'name': f'idler {k}', 'diameter': '80 mm', 'wrap': wrap},
                **{'turn': ('left', 'right')[k % 2], 'inertia': '1.6e-3 kg m^2'},
                **{'drag': '0.01 N m', 'viscousDrag': '0.0005 N m s'},
            }
        )
    return parts


def bench_scenario(model, states, counts):
    """The parts of the whole line with a second nip, and the wanted number of idlers between them."""
    by_name = {part.get('name'): part for part in model['line']}
    nip = by_name['nip 1']
    second = {**nip, 'name': 'nip 2', 'draw': '0.02 %'}
    span = {'part': 'span', 'length': '550 mm', 'filmDamping': '2 ms'}
    parts, made = [by_name['unwind']], 1
    for count, last in zip(counts, (by_name['infeed dancer'], nip, second, by_name['rewind'])):
        parts += [*idlers(made, count), span, last]
        made += count
    title = f'Bench line of {states} states'
    about = f'The reference line with a second nip and {made - 1} idlers, for timing against a second integrator.'
    return {**model, 'title': title, 'about': about, 'line': parts, 'run': {**model['run'], 'for': '10 s'}}


def ramps_every_second():
    """A load that never rests: in the model's own stage one ramp is over after a fifth of the run."""
    speeds = ('30 m/min', '20 m/min')
    return [{'at': f'{k + 0.5} s', 'do': 'speed', 'to': speeds[k % 2], 'in': '0.5 s'} for k in range(10)]


def write_scenarios(with_ramps):
    model = read_scenario(os.path.join(HERE, 'whole-line.scenario.json'))
    for states, counts in ((37, (3, 2, 3, 2)), (85, (10, 8, 9, 7))):
        path = os.path.join(HERE, f'bench-{states}{"-ramps" if with_ramps else ""}.scenario.json')
        scenario = bench_scenario(model, states, counts)
        if with_ramps:
            scenario['stage'] = ramps_every_second()
        text = json.dumps(scenario, indent=2, ensure_ascii=False)
        with open(path, 'w', encoding='utf-8') as file:
            file.write(text + '\n')
        line, equations, _ = build(path)
        y, _ = steady_state(equations, first_phase(line, equations.ramp))
        tension = equations.evaluate(first_phase(line, equations.ramp), 0.0, y).tension
        print(f'{path}: {len(y)} states, tension {min(tension):.2f} to {max(tension):.2f} N at the start')


if __name__ == '__main__':
    if sys.argv[1:] in (['scenarios'], ['scenarios', 'ramps']):
        write_scenarios(with_ramps=len(sys.argv) == 3)
    elif sys.argv[1:2] == ['check'] and len(sys.argv) == 3:
        print(json.dumps(scipy_final(sys.argv[2])))
    elif len(sys.argv) in (4, 5):
        write_input(*sys.argv[1:4], float(sys.argv[4]) if len(sys.argv) == 5 else 1e-6)
    else:
        sys.exit(__doc__)

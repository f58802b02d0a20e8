"""Reads a scenario file into plain SI numbers: what is on the line, in which order, and what happens when.

Nothing of the physics is here; see line_equations.py. Numbering: rollers 0..n (0 the unwind, n the rewind), span j lies
between roller j and roller j + 1.
"""

import json
import math
from types import SimpleNamespace as Record

from quantities import si

GRAVITY = 9.80665
GRAVITY_ALONG_STORING = {'down': GRAVITY, 'up': -GRAVITY, 'level': 0.0}


def read_scenario(path):
    with open(path, encoding='utf-8') as file:
        return json.load(file)


def read_film(fields):
    thickness, width = si(fields['thickness']), si(fields['width'])
    fill, density = si(fields['fillFactor']), si(fields['density'])
    return Record(
        EA=si(fields['modulus']) * thickness * width,
        effective_thickness=thickness * fill,
        roll_density=density / fill,
        width=width,
    )


def patch_of(first, second):
    """The overlap at a splice: thickness and stiffness add. Both films must wind up at one density."""
    if first.width != second.width or first.roll_density != second.roll_density:
        raise ValueError('the reference computes a splice only between films of one width, density and fill factor')
    return Record(
        EA=first.EA + second.EA,
        effective_thickness=first.effective_thickness + second.effective_thickness,
        roll_density=first.roll_density,
        width=first.width,
    )


def read_drive(fields):
    drive = Record(kind=fields['kind'])
    if drive.kind == 'servo':
        drive.bandwidth, drive.damping = si(fields['bandwidth']), si(fields['damping'])
    if drive.kind == 'lag':
        drive.lag = si(fields['lag'])
    if drive.kind == 'torque':
        drive.tension, drive.law = si(fields['tension']), fields['law']
        drive.taper, drive.full_radius = si(fields['taper']), si(fields['fullDiameter']) / 2
    if drive.kind in ('servo', 'torque'):
        drive.torque_limit = si(fields['torqueLimit'])
    return drive


def read_roll(fields):
    return Record(
        radius=si(fields['diameter']) / 2,
        core_radius=si(fields['core']) / 2,
        core_inertia=si(fields['coreInertia']),
        wound_tension=si(fields['woundTension']) if 'woundTension' in fields else None,
    )


def read_roller(fields):
    roller = Record(
        part=fields['part'],
        name=fields['name'],
        nominal_radius=si(fields['diameter']) / 2,
        wrap=si(fields.get('wrap', '0 deg')),
        drag=si(fields['drag']),
        viscous_drag=si(fields['viscousDrag']),
        draw=si(fields.get('draw', '0 %')),
        drive=read_drive(fields['drive']) if 'drive' in fields else Record(kind='none'),
    )
    roller.radius = roller.nominal_radius * (1 + si(fields.get('feedError', '0 %')))
    if roller.part in ('unwind', 'rewind'):
        roller.roll = read_roll(fields)
    else:
        roller.inertia = si(fields['inertia'])
    return roller


def read_dancer(fields, index):
    if si(fields['slidingFriction']) != 0:
        raise ValueError('the reference has no dancer friction')
    return Record(
        roller=index,
        name=fields['name'],
        mass=si(fields['mass']),
        stiffness=si(fields['stiffness']),
        damping=si(fields['damping']),
        force=si(fields['force']),
        gravity=GRAVITY_ALONG_STORING[fields['stores']],
        lower_stop=si(fields['lowerStop']),
        upper_stop=si(fields['upperStop']),
        set_point=si(fields['setPoint']),
        spring_zero=si(fields['springZero']),
        per_travel=math.sin(si(fields['wrap']) / 2),
    )


def arc_share(roller):
    """Half of the wrapped arc, which counts to the span on that side; rolls add none."""
    return 0.0 if roller.part in ('unwind', 'rewind') else roller.nominal_radius * roller.wrap / 2


def read_line(scenario):
    """rollers, spans, the one dancer and its trim, the film on the line and the ramp's start."""
    parts = scenario['line']
    line = Record(title=scenario['title'], duration=si(scenario['run']['for']))
    line.rollers = [read_roller(part) for part in parts if part['part'] != 'span']
    line.spans = [
        Record(length=si(part['length']), film_damping=si(part['filmDamping']))
        for part in parts
        if part['part'] == 'span'
    ]
    line.n = len(line.spans)
    if [part['part'] == 'span' for part in parts] != [i % 2 == 1 for i in range(2 * line.n + 1)]:
        raise ValueError('rollers and spans must alternate')
    for j, span in enumerate(line.spans):
        span.length += arc_share(line.rollers[j]) + arc_share(line.rollers[j + 1])
    dancers = [part for part in parts if part['part'] == 'dancer']
    names = [roller.name for roller in line.rollers]
    line.dancer = read_dancer(dancers[0], names.index(dancers[0]['name']))
    for j, span in enumerate(line.spans):
        touches = line.dancer.roller in (j, j + 1)
        span.per_travel = line.dancer.per_travel if touches else 0.0
    line.trim = read_trim(scenario['control'], line, names)
    line.film = read_film(scenario['films'][parts[0]['film']])
    line.start_speed = si(scenario['speed']['start'])
    return line


def read_trim(controls, line, names):
    (fields,) = controls
    drives = names.index(fields['drives'])
    return Record(
        drives=drives,
        kind=fields['kind'],
        gain=si(fields['gain']),
        integral=si(fields['integral']),
        limit=si(fields['limit']),
        sign=-1.0 if drives < line.dancer.roller else 1.0,
    )


def read_ramps(scenario):
    """(start, duration, speed before, speed after, rounding) of every change of line speed, in order."""
    rounding = si(scenario['speed']['rounding'])
    speed, ramps = si(scenario['speed']['start']), []
    for stage in scenario['stage']:
        if stage['do'] == 'speed':
            ramps.append((si(stage['at']), si(stage['in']), speed, si(stage['to']), rounding))
            speed = si(stage['to'])
    return ramps


def read_splice(scenario):
    """The one flying splice, or None."""
    for stage in scenario['stage']:
        if stage['do'] == 'flying splice':
            return Record(
                at=si(stage['at']),
                film=read_film(scenario['films'][stage['film']]),
                mismatch=si(stage['mismatch']),
                patch=si(stage['patch']),
                roll=read_roll(stage['roll']),
            )
    return None

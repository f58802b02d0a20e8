"""Integrates a line through its phases, and reads extremes and samples off the continuous solution.

The run is split at every corner of the speed ramp, at the splice, and wherever a film boundary crosses a roller
(located as the zero of a smooth function of the states). Nothing else may switch: `least_margins` has to stay positive.
"""

from types import SimpleNamespace as Record

import numpy as np
from scipy.integrate import solve_ivp
from scipy.optimize import minimize_scalar

from steady_state import first_phase, roll_of, steady_state

POINTS_PER_STEP = 8
NEAR = 1e-9  # s, times nearer than this are one time


def next_crossing(phase, k):
    """The roller that boundary k (between film k and k + 1) reaches next, or None behind the rewind."""
    ahead = [i for i, piece in enumerate(phase.at_roller) if piece <= k]
    return ahead[0] if ahead else None


def crossing_event(equations, phase, k, roller):
    at, spans = equations.at, equations.line.spans

    def distance(_, y):
        held = sum(spans[j].length + y[j] for j in range(roller))
        return y[at.unwound] - held - phase.boundaries[k]

    distance.terminal, distance.direction = True, 1
    return distance


def after_crossing(equations, phase, t, y, k, roller, convention):
    """Film k + 1 is now at the roller; at a roll the lap's thickness changes too."""
    changed = Record(**vars(phase))
    changed.at_roller = list(phase.at_roller)
    changed.at_roller[roller] = k + 1
    at, c = equations.at, equations.evaluate(phase, t, y)
    if roller == at.n:
        changed.take_up = Record(**vars(phase.take_up))
        changed.take_up.square = c.radius[at.n] ** 2
        changed.take_up.since, changed.take_up.film = y[at.wound], phase.films[k + 1]
    if roller == 0 and convention == 'tape':
        changed.supply = supply_as_tape(phase.supply, c.radius[0] ** 2, y[at.unwound], phase.films[k + 1])
    return changed


def supply_as_tape(supply, square, since, film):
    """Other reading of the text: what leaves the roll over the patch's length counts as patch already in the roll."""
    changed = Record(**vars(supply))
    changed.square, changed.since, changed.film = square, since, film
    changed.wound_stretch = 1 + supply.wound_tension / film.EA
    return changed


def after_splice(equations, phase, t, y, splice, patch, convention):
    """Roll replaced, patch and new film follow; held film unchanged, so F_el is continuous."""
    at, changed, y = equations.at, Record(**vars(phase)), np.array(y)
    changed.films = [phase.films[0], patch, splice.film]
    changed.boundaries = [y[at.unwound], y[at.unwound] + splice.patch]
    changed.at_roller = [1, *phase.at_roller[1:]]
    stretch = 1 + splice.roll.wound_tension / splice.film.EA
    changed.supply = roll_of(splice.roll, splice.film, y[at.unwound], stretch)
    changed.supply.wound_tension = splice.roll.wound_tension
    if convention == 'tape':
        changed.supply = supply_as_tape(changed.supply, changed.supply.square, changed.supply.since, patch)
    v, _ = equations.ramp.speed_and_acceleration(t, phase.ramp_piece)
    y[at.n + at.free.index(0)] = v * (1 + splice.mismatch) / splice.roll.radius
    return changed, y


def tolerances(equations, size):
    at = equations.at
    atol = np.full(size, 1e-12)
    atol[: at.n] = 1e-13
    return atol


def integrate(equations, settings, splice=None, patch=None, extra=None, convention='roll'):
    """A list of legs, each with its phase, its steps and its dense output. `extra` appends one integrated quantity."""
    line, ramp, at = equations.line, equations.ramp, equations.at
    phase = first_phase(line, ramp)
    y, residual = steady_state(equations, phase)
    if extra is not None:
        y = np.append(y, 0.0)
    declared = sorted({*ramp.corners(), *([splice.at] if splice else []), line.duration})
    run = Record(legs=[], crossings=[], residual=residual, evaluations=0, y_start=y)
    t = 0.0
    for until in declared:
        while until - t > NEAR:
            leg, hit = integrate_leg(equations, settings, phase, t, until, y, extra)
            run.legs.append(leg)
            run.evaluations += leg.evaluations
            t, y = leg.end, leg.y_end
            if hit is not None:
                run.crossings.append({'boundary': hit[0], 'roller': hit[1], 'time': t})
                phase = after_crossing(equations, phase, t, y, *hit, convention)
        t = until
        phase = Record(**vars(phase))
        phase.ramp_piece = ramp.piece_at(t)
        if splice and t == splice.at:
            phase, y = after_splice(equations, phase, t, y, splice, patch, convention)
    return run


def integrate_leg(equations, settings, phase, t, until, y, extra):
    targets = [(k, next_crossing(phase, k)) for k in range(len(phase.boundaries))]
    targets = [(k, roller) for k, roller in targets if roller is not None]
    events = [crossing_event(equations, phase, k, roller) for k, roller in targets]

    def rates(time, state):
        c = equations.evaluate(phase, time, state)
        return c.rates if extra is None else [*c.rates, extra(equations, phase, c, state)]

    atol = tolerances(equations, len(y))
    choices = {'method': settings.method, 'rtol': settings.rtol, 'atol': atol, 'max_step': settings.longest_step}
    solution = solve_ivp(rates, (t, until), y, dense_output=True, events=events, **choices)
    if solution.status < 0:
        raise RuntimeError(f'{settings.method} stopped at {solution.t[-1]} s: {solution.message}')
    hit = next((targets[e] for e, times in enumerate(solution.t_events or []) if len(times)), None)
    leg = Record(phase=phase, start=t, end=solution.t[-1], steps=solution.t, at=solution.sol, evaluations=solution.nfev)
    leg.y_end = solution.y[:, -1]
    return leg, hit


def signals(equations, phase, t, y):
    """Everything of which extremes are wanted, by name."""
    c, at = equations.evaluate(phase, t, y), equations.at
    out = {}
    for j in range(at.n):
        out[f'tension {j}'], out[f'elastic {j}'] = c.tension[j], c.elastic[j]
    out['z'] = float(y[at.z])
    for i, torque in c.motor.items():
        out[f'motor {i}'] = torque
    line, dancer = equations.line, equations.line.dancer
    out['margin slack'] = min(c.tension) / max(c.tension)
    out['margin reversal'] = min(w * r for w, r in zip(c.w, c.radius)) / c.v
    out['margin torque'] = min(1 - abs(raw) / line.rollers[i].drive.torque_limit for i, raw in c.motor_raw.items())
    out['margin trim'] = 1 - abs(c.trim_raw) / line.trim.limit
    out['margin stops'] = min(out['z'] - dancer.lower_stop, dancer.upper_stop - out['z'])
    return out


def sample_leg(equations, leg):
    """Signals at several points of every step, ends included (one-sided limits at an event)."""
    times = [leg.steps[0]]
    for a, b in zip(leg.steps[:-1], leg.steps[1:]):
        times.extend(a + (b - a) * k / POINTS_PER_STEP for k in range(1, POINTS_PER_STEP + 1))
    states = leg.at(np.array(times))
    rows = [signals(equations, leg.phase, t, states[:, k]) for k, t in enumerate(times)]
    return np.array(times), {name: np.array([row[name] for row in rows]) for name in rows[0]}


def refine(equations, leg, times, k, name, sign):
    """The extremum near sample k, by bounded search on the dense output."""
    low, high = times[max(k - 1, 0)], times[min(k + 1, len(times) - 1)]

    def value(t):
        return sign * signals(equations, leg.phase, t, leg.at(t))[name]

    found = minimize_scalar(value, bounds=(low, high), method='bounded', options={'xatol': 1e-11})
    return min(((value(t), t) for t in (found.x, times[k])), key=lambda pair: pair[0])


def extreme(equations, sampled, name, sign):
    """sign 1: the least value, -1: the greatest. Returns value, time and where the trace lies within 1e-6 of it."""
    rough = min(float(np.min(sign * values[name])) for _, _, values in sampled)
    swing = max(float(np.max(sign * values[name])) for _, _, values in sampled) - rough
    found = []
    for leg, times, values in sampled:
        v = sign * values[name]
        lower_than_left = np.append(True, v[1:] <= v[:-1])
        lower_than_right = np.append(v[:-1] <= v[1:], True)
        candidates = np.nonzero(lower_than_left & lower_than_right & (v <= rough + 1e-3 * swing))[0]
        candidates = sorted(candidates, key=lambda k: v[k])[:6]
        found.extend(refine(equations, leg, times, k, name, sign) for k in candidates)
    value, time = min(found, key=lambda pair: pair[0])
    near = [
        t for _, times, values in sampled for t in times[np.abs(sign * values[name] - value) <= 1e-6 * abs(value)]
    ]
    return sign * value, time, [min([time, *near]), max([time, *near])]


def leg_at(run, t):
    """The leg that holds just after the time (at the end, the last)."""
    return [leg for leg in run.legs if leg.start <= t + NEAR][-1]


def value_at(equations, run, t):
    leg = leg_at(run, t)
    y = leg.at(max(t, leg.start))
    return equations.evaluate(leg.phase, t, y), y

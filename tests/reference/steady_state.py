"""The steady state of the same equations at the first speed, roll radii held: all rates but s_0 and S_w are zero."""

import math
from types import SimpleNamespace as Record

import numpy as np
from scipy.optimize import root


def first_phase(line, ramp):
    """Before anything has happened: one film everywhere, rolls as stated."""
    unwind, rewind = line.rollers[0].roll, line.rollers[-1].roll
    return Record(
        ramp_piece=ramp.piece_at(0.0),
        films=[line.film],
        boundaries=[],
        at_roller=[0] * (line.n + 1),
        supply=roll_of(unwind, line.film, 0.0, 1 + unwind.wound_tension / line.film.EA),
        take_up=roll_of(rewind, line.film, 0.0, None),
    )


def roll_of(roll, film, since, wound_stretch):
    return Record(
        square=roll.radius**2,
        since=since,
        film=film,
        core_radius=roll.core_radius,
        core_inertia=roll.core_inertia,
        wound_stretch=wound_stretch,
    )


def guess(equations, phase, force):
    line, at = equations.line, equations.at
    y = np.zeros(at.size)
    for j, span in enumerate(line.spans):
        full = span.length + span.per_travel * line.dancer.set_point
        y[j] = full / (1 + force / line.film.EA) - span.length
    y[at.z] = line.dancer.set_point
    c = equations.evaluate(phase, 0.0, y)
    for slot, i in enumerate(at.free):
        y[at.n + slot] = c.v / c.radius[i]
    return y


def scales(equations, y):
    line, at = equations.line, equations.at
    scale = np.ones(at.size)
    scale[: at.n] = [1e-3 * span.length for span in line.spans]
    scale[at.n : at.unwound] = 1e-3 * y[at.n : at.unwound]
    scale[at.z] = 1e-2
    scale[at.integrals : at.trim] = 10.0
    return scale


def steady_state(equations, phase):
    """Root by SciPy's hybrid method in scaled unknowns, polished by Newton steps with a differenced Jacobian."""
    at, dancer = equations.at, equations.line.dancer
    hold = dancer.force + dancer.mass * dancer.gravity - dancer.stiffness * (dancer.set_point - dancer.spring_zero)
    start = guess(equations, phase, hold / (2 * dancer.per_travel))
    scale = scales(equations, start)
    kept = [k for k in range(at.size) if k not in (at.unwound, at.wound)]

    def rates(unknown):
        y = np.zeros(at.size)
        y[kept] = unknown * scale[kept]
        return np.array(equations.evaluate(phase, 0.0, y).rates)[kept]

    unknown = root(rates, start[kept] / scale[kept], method='hybr', tol=1e-14).x
    for _ in range(4):
        unknown = unknown - np.linalg.solve(differenced(rates, unknown), rates(unknown))
    y = np.zeros(at.size)
    y[kept] = unknown * scale[kept]
    residual = float(np.max(np.abs(rates(unknown))))
    if not math.isfinite(residual) or residual > 1e-8:
        raise RuntimeError(f'no steady state: greatest rate left is {residual}')
    return y, residual


def differenced(function, x):
    columns = []
    for k in range(len(x)):
        step = 1e-5 * max(1.0, abs(x[k]))
        ahead, behind = x.copy(), x.copy()
        ahead[k] += step
        behind[k] -= step
        columns.append((function(ahead) - function(behind)) / (2 * step))
    return np.array(columns).T

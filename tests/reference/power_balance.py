"""Power balance of the whole line (own derivation), as a check of the equations and of the integration.

    d/dt (sum m EA e^2/2 + sum J w^2/2 + M z'^2/2) = motors + dancer's outer force + film energy in - out
                                                     - drag - damping - rolls' J w w' - sum q EA (e_in - e_out)^2/2

The right side is integrated along with the states; the left side is evaluated. With film damping the force tau dF_el/dt
also acts on the jump of stretch at the roller where film enters the span; without that term the balance does not close.
"""

import numpy as np

from trajectory import integrate, leg_at


def stored(equations, phase, c, y):
    """Elastic energy of the film and kinetic energy of rollers (not of rolls) and carriage."""
    at, line = equations.at, equations.line
    film = sum(c.compliance[j] * max(0.0, c.elastic[j]) ** 2 / 2 for j in range(at.n))
    rollers = sum(c.inertia[i] * c.w[i] ** 2 / 2 for i in range(1, at.n) if line.rollers[i].drive.kind != 'ideal')
    return film + rollers + line.dancer.mass * y[at.z + 1] ** 2 / 2


def roller_power(equations, c):
    """What comes in through the rollers. A prescribed roller gives the film exactly what the film takes."""
    total = 0.0
    for i, roller in enumerate(equations.line.rollers):
        film_torque = equations.torque_on(c, i) + roller.drag + roller.viscous_drag * c.w[i]
        if roller.drive.kind in ('ideal', 'lag'):
            total -= film_torque * c.w[i]
            continue
        total += (c.motor.get(i, 0.0) - roller.drag - roller.viscous_drag * c.w[i]) * c.w[i]
        if i in (0, equations.at.n):
            total -= c.inertia[i] * c.w[i] * equations.roller_rate(c, i)
    return total


def film_loss(equations, phase, c):
    """Lost at rollers (stretch changes at once) and in the film's own damping."""
    total = 0.0
    for j in range(equations.at.n):
        stiffness = phase.films[phase.at_roller[j]].EA
        jump = c.lambda_in[j] - c.lambda_arriving[j]
        damping = c.tension[j] - c.elastic[j]
        total += c.flux[j] * stiffness * jump**2 / 2
        total += damping * (c.compliance[j] * c.elastic_rate[j] + c.flux[j] * jump)
    return total


def carried(phase, c, i):
    """Elastic energy that the film carries over roller i, W."""
    return c.flux[i] * phase.films[phase.at_roller[i]].EA * (c.lambda_arriving[i] - 1) ** 2 / 2


def power(equations, phase, c, y):
    at = equations.at
    film = carried(phase, c, 0) - carried(phase, c, at.n) - film_loss(equations, phase, c)
    return roller_power(equations, c) + film + c.dancer_push * y[at.z + 1]


def greatest_imbalance(equations, settings, **splicing):
    """Greatest |stored(t) - stored(0) - integral of power| over all steps, relative to the greatest stored energy."""
    run = integrate(equations, settings, extra=power, **splicing)
    errors, sizes, first = [], [], None
    for leg in run.legs:
        for t in leg.steps:
            y = leg.at(t)
            energy = stored(equations, leg.phase, equations.evaluate(leg.phase, t, y[:-1]), y)
            first = energy if first is None else first
            errors.append(abs(energy - first - y[-1]))
            sizes.append(energy)
    return float(np.max(errors) / np.max(sizes))


def instantaneous_imbalance(equations, run, times, step=1e-6):
    """Greatest |d(stored)/dt - power| along the rates, relative to the power of the greatest motor."""
    worst = 0.0
    for t in times:
        leg = leg_at(run, t)
        y = leg.at(t)
        c = equations.evaluate(leg.phase, t, y)
        ahead, behind = y + step * np.array(c.rates), y - step * np.array(c.rates)
        change = [
            stored(equations, leg.phase, equations.evaluate(leg.phase, t, side), side) for side in (ahead, behind)
        ]
        scale = max(abs(torque * c.w[i]) for i, torque in c.motor.items())
        worst = max(worst, abs((change[0] - change[1]) / (2 * step) - power(equations, leg.phase, c, y)) / scale)
    return worst

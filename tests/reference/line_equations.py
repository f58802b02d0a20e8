"""The moving line's equations, written out a second time, independently of the product's source.

State y of a line with n spans, in this order:
    x_j = m_j - L_j   unstretched film held in span j less the span's length at z = 0 (m); carried as a difference,
                      because a relative tolerance on m itself would be a tolerance of 1e-3 of the strain
    w_i               every roller that is free to turn (rad/s); an ideal drive prescribes its own
    s_0, S_w          film unwound and film wound (m)
    z, z'             dancer's carriage (m, m/s; positive = more film stored)
    I                 torque integral of every servo (N m)
    X                 integral of the trim's error (m s)

    dm_j/dt = q_j - q_{j+1}         q_i = R_i w_i/lambda(arriving)
    F_el = (L - sum m_k)/sum(m_k/EA_k), lambda_k = 1 + max(0, F_el)/EA_k      k: the stretches of film in the span
    F = max(0, F_el + filmDamping dF_el/dt)
    J dw/dt = R (F_downstream - F_upstream) - drag sign(w) - viscousDrag w + motor
    M z'' = force + M g_z - sum_j g_j F_j - damping z' - stiffness (z - springZero)

Sources: mass balance of a span, Whitworth & Harrison 1983 and Shelton 1986 (years from memory); the form that is exact
at any strain, the several films in one span and the layout of the states are own derivation.
A "phase" is a stretch of time in which no corner, splice or film boundary is crossed: there the rates are smooth.
"""

import math
from types import SimpleNamespace as Record


def sign(value):
    return 1.0 if value > 0 else -1.0 if value < 0 else 0.0


class Layout:
    """Where each state stands in y."""

    def __init__(self, line):
        self.n = n = line.n
        self.free = [i for i, roller in enumerate(line.rollers) if roller.drive.kind != 'ideal']
        self.servos = [i for i, roller in enumerate(line.rollers) if roller.drive.kind == 'servo']
        self.unwound = n + len(self.free)
        self.wound = self.unwound + 1
        self.z = self.unwound + 2
        self.integrals = self.z + 2
        self.trim = self.integrals + len(self.servos)
        self.size = self.trim + 1


def radius_and_inertia(phase, roller, index, last, unwound, wound):
    """A roll by the film that has left or come; any other roller as it is."""
    if 0 < index < last:
        return roller.radius, roller.inertia
    roll, film = (phase.supply, phase.supply.film) if index == 0 else (phase.take_up, phase.take_up.film)
    change = -(unwound - roll.since) if index == 0 else wound - roll.since
    square = roll.square + film.effective_thickness * change / math.pi
    ring = square**2 - roll.core_radius**4
    return math.sqrt(square), roll.core_inertia + math.pi / 2 * film.roll_density * film.width * ring


def trim_output(line, v, error, integral):
    trim = line.trim
    raw = trim.sign * (trim.gain * error + trim.integral * integral)
    limited = min(max(raw, -trim.limit), trim.limit)
    return raw, limited


def reference_speed(line, index, v, trim, estimate):
    """w*, rad/s."""
    roller = line.rollers[index]
    if index != line.trim.drives:
        return v * (1 + roller.draw) / estimate
    if line.trim.kind == 'speed':
        return (v * (1 + roller.draw) + trim) / estimate
    return v * (1 + roller.draw + trim) / estimate


def span_film(line, phase, y, s, j):
    """sum(m_k/EA_k) of span j; its stretches follow from the film at either roller and the boundaries between."""
    first, last = phase.at_roller[j + 1], phase.at_roller[j]
    if first == last:
        return (line.spans[j].length + y[j]) / phase.films[first].EA
    edges = [s[j + 1], *phase.boundaries[first:last], s[j]]
    return sum((edges[k + 1] - edges[k]) / phase.films[first + k].EA for k in range(last - first + 1))


def torque_set(line, roller, phase, radius, inertia, w, v, acceleration):
    """Wanted torque of a rewind in torque mode: the taper's force, its own drag, and the roll's inertia."""
    drive, core = roller.drive, phase.take_up.core_radius
    if drive.law == 'linear':
        share = 1 - drive.taper * (radius - core) / (drive.full_radius - core)
    elif drive.law == 'hyperbolic':
        share = 1 - drive.taper * (1 - core / radius)
    else:
        share = 1.0
    drag = roller.drag * sign(v) + roller.viscous_drag * w
    return drive.tension * share * radius + drag + inertia * acceleration / radius


class Equations:
    def __init__(self, line, ramp):
        self.line, self.ramp, self.at = line, ramp, Layout(line)

    def speeds(self, phase, t, y, c):
        """Line speed, trim, and each roller's radius, inertia, reference and speed."""
        line, at = self.line, self.at
        c.v, c.acceleration = self.ramp.speed_and_acceleration(t, phase.ramp_piece)
        c.error = y[at.z] - line.dancer.set_point
        c.trim_raw, c.trim = trim_output(line, c.v, c.error, y[at.trim])
        rolls = [
            radius_and_inertia(phase, roller, i, at.n, y[at.unwound], y[at.wound])
            for i, roller in enumerate(line.rollers)
        ]
        c.radius, c.inertia = zip(*rolls)
        c.w, c.w_set = [0.0] * (at.n + 1), [0.0] * (at.n + 1)
        for slot, i in enumerate(at.free):
            c.w[i] = y[at.n + slot]
        for i, roller in enumerate(line.rollers):
            if roller.drive.kind in ('servo', 'lag', 'ideal'):
                estimate = roller.nominal_radius if 0 < i < at.n else c.radius[i]
                c.w_set[i] = reference_speed(line, i, c.v, c.trim, estimate)
                if roller.drive.kind == 'ideal':
                    c.w[i] = c.w_set[i]

    def film(self, phase, y, c):
        """Forces and fluxes. In span j: lambda_in of the film at roller j, lambda_out of the film at roller j + 1."""
        line, at, n = self.line, self.at, self.at.n
        s = [y[at.unwound]]
        for j in range(n):
            s.append(s[j] - (line.spans[j].length + y[j]))
        c.s = s
        c.compliance = [span_film(line, phase, y, s, j) for j in range(n)]
        c.elastic = [(line.spans[j].per_travel * y[at.z] - y[j]) / c.compliance[j] for j in range(n)]
        stiffness = [phase.films[piece].EA for piece in phase.at_roller]
        c.lambda_in = [1 + max(0.0, c.elastic[j]) / stiffness[j] for j in range(n)]
        c.lambda_out = [1 + max(0.0, c.elastic[j]) / stiffness[j + 1] for j in range(n)]
        c.lambda_arriving = [phase.supply.wound_stretch, *c.lambda_out]
        c.flux = [c.radius[i] * c.w[i] / c.lambda_arriving[i] for i in range(n + 1)]
        c.elastic_rate = [
            (line.spans[j].per_travel * y[at.z + 1] - c.lambda_in[j] * c.flux[j] + c.lambda_out[j] * c.flux[j + 1])
            / c.compliance[j]
            for j in range(n)
        ]
        c.tension = [
            max(0.0, c.elastic[j] + line.spans[j].film_damping * c.elastic_rate[j]) if c.elastic[j] > 0 else 0.0
            for j in range(n)
        ]

    def motors(self, phase, y, c):
        line, at = self.line, self.at
        c.motor, c.motor_raw, c.integral_rate = {}, {}, []
        for slot, i in enumerate(at.servos):
            drive, inertia = line.rollers[i].drive, c.inertia[i]
            lag = c.w_set[i] - c.w[i]
            raw = 2 * drive.damping * drive.bandwidth * inertia * lag + y[at.integrals + slot]
            c.motor_raw[i] = raw
            c.motor[i] = min(max(raw, -drive.torque_limit), drive.torque_limit)
            back = (c.motor[i] - raw) * drive.bandwidth / (2 * drive.damping)
            c.integral_rate.append(drive.bandwidth**2 * inertia * lag + back)
        i = at.n
        roller = line.rollers[i]
        if roller.drive.kind == 'torque':
            c.motor_raw[i] = torque_set(line, roller, phase, c.radius[i], c.inertia[i], c.w[i], c.v, c.acceleration)
            c.motor[i] = min(max(c.motor_raw[i], -roller.drive.torque_limit), roller.drive.torque_limit)

    def torque_on(self, c, i):
        """Film and drag on roller i, without its motor."""
        roller, n = self.line.rollers[i], self.at.n
        pull = (c.tension[i] if i < n else 0.0) - (c.tension[i - 1] if i > 0 else 0.0)
        return c.radius[i] * pull - roller.drag * sign(c.w[i]) - roller.viscous_drag * c.w[i]

    def roller_rate(self, c, i):
        drive = self.line.rollers[i].drive
        if drive.kind == 'lag':
            return (c.w_set[i] - c.w[i]) / drive.lag
        return (self.torque_on(c, i) + c.motor.get(i, 0.0)) / c.inertia[i]

    def evaluate(self, phase, t, y):
        """Everything at one instant: forces, speeds, torques and the rates of all states."""
        line, at, dancer, c = self.line, self.at, self.line.dancer, Record()
        y = [float(value) for value in y]
        self.speeds(phase, t, y, c)
        self.film(phase, y, c)
        self.motors(phase, y, c)
        pull = sum(span.per_travel * force for span, force in zip(line.spans, c.tension))
        c.dancer_push = (
            dancer.force
            + dancer.mass * dancer.gravity
            - dancer.damping * y[at.z + 1]
            - dancer.stiffness * (y[at.z] - dancer.spring_zero)
        )
        back = (c.trim - c.trim_raw) * line.trim.sign / line.trim.gain
        c.rates = [
            *(c.flux[j] - c.flux[j + 1] for j in range(at.n)),
            *(self.roller_rate(c, i) for i in at.free),
            c.flux[0],
            c.flux[at.n],
            y[at.z + 1],
            (c.dancer_push - pull) / dancer.mass,
            *c.integral_rate,
            c.error + back,
        ]
        return c

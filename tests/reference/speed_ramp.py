"""Line speed v*(t) as a chain of quadratic pieces: straight ramps with a jerk-limited end on either side.

From v1 to v2 in T with rounding r: acceleration rises linearly from 0 to (v2 - v1)/(T (1 - r)) in r T, stays, and falls
to 0 in r T. Own derivation; integrating the trapezoid of acceleration gives v2 - v1 exactly.
"""

from bisect import bisect_right


class SpeedRamp:
    def __init__(self, start_speed, ramps):
        self.starts = [float('-inf')]
        self.pieces = [(0.0, start_speed, 0.0, 0.0)]  # (time, speed, acceleration there, jerk)
        for at, duration, before, after, rounding in ramps:
            self._add(at, duration, before, after, rounding)

    def _add(self, at, duration, before, after, rounding):
        full = (after - before) / (duration * (1 - rounding))
        end = rounding * duration
        time, speed, acceleration = at, before, 0.0
        for length, jerk in ((end, full / end), (duration - 2 * end, 0.0), (end, -full / end)):
            self._append(time, speed, acceleration, jerk)
            time += length
            speed += acceleration * length + jerk * length**2 / 2
            acceleration += jerk * length
        self._append(at + duration, after, 0.0, 0.0)

    def _append(self, *piece):
        self.starts.append(piece[0])
        self.pieces.append(piece)

    def corners(self):
        return self.starts[1:]

    def piece_at(self, time):
        """Index of the piece that holds just after the time."""
        return bisect_right(self.starts, time) - 1

    def speed_and_acceleration(self, time, piece):
        """The piece is told, so that an integrator never sees the kink at its end."""
        start, speed, acceleration, jerk = self.pieces[piece]
        since = time - start
        return speed + acceleration * since + jerk * since**2 / 2, acceleration + jerk * since

/**
 * A speed against time: straight ramps and jerk-limited ones, as pieces of constant jerk.
 *
 * Variables    v (m/s), a = dv/dt (m/s^2)
 * Parameters   of a ramp: v1, v2 (m/s), duration T (s), rounding r (share of T spent on each end with constant jerk, 0..0.5)
 * Equations    a rises linearly from 0 to a_max in r T, stays, falls to 0 in r T;  a_max = (v2 - v1)/(T (1 - r))
 * Neglected    nothing
 * Source       kinematics
 */
interface Piece {
  readonly at: number
  readonly v: number
  readonly a: number
  readonly jerk: number
}

export class Profile {
  private readonly pieces: Piece[]
  private cursor = 0

  constructor(speed: number) {
    this.pieces = [{ at: -Infinity, v: speed, a: 0, jerk: 0 }]
  }

  /** Adds a change to `to` (m/s) from time `at` over `duration` seconds. Ramps are added in time order and do not overlap. */
  ramp(at: number, to: number, duration: number, rounding: number): this {
    const from = this.speedAt(at)
    const soft = rounding * duration
    const a = (to - from) / (duration * (1 - rounding))
    const soften = (a * soft) / 2
    if (soft > 0) this.pieces.push({ at, v: from, a: 0, jerk: a / soft })
    this.pieces.push({ at: at + soft, v: from + soften, a, jerk: 0 })
    if (soft > 0) this.pieces.push({ at: at + duration - soft, v: to - soften, a, jerk: -a / soft })
    this.pieces.push({ at: at + duration, v: to, a: 0, jerk: 0 })
    return this
  }

  /** Times at which the profile has a corner, s. */
  corners(): number[] {
    return this.pieces.slice(1).map((p) => p.at)
  }

  /** Speed at any time, m/s: a look-up that leaves the cursor alone. */
  speedAt(t: number): number {
    let k = this.pieces.length - 1
    while (this.pieces[k].at > t) k--
    return valueOf(this.pieces[k], t)
  }

  /** Takes the piece that begins at or holds `t`; between corners the rate function then sees one smooth piece. */
  enter(t: number): void {
    while (this.cursor + 1 < this.pieces.length && this.pieces[this.cursor + 1].at <= t) this.cursor++
  }

  /** v at time t within the piece entered, m/s. */
  value(t: number): number {
    return valueOf(this.pieces[this.cursor], t)
  }

  /** a at time t within the piece entered, m/s^2. */
  rate(t: number): number {
    const p = this.pieces[this.cursor]
    return p.jerk === 0 ? p.a : p.a + p.jerk * (t - p.at)
  }
}

function valueOf(p: Piece, t: number): number {
  if (p.a === 0 && p.jerk === 0) return p.v
  const s = t - p.at
  return p.v + s * (p.a + 0.5 * p.jerk * s)
}

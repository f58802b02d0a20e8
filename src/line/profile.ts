/**
 * A quantity that is led through time: straight ramps, jerk-limited ones, and the moves of an indexing feed, piece by piece.
 *
 * Variables    v (of any unit; a speed in m/s where integrals are named), a = dv/dt
 * Parameters   of a ramp: v1, v2, duration T (s), rounding r (share of T spent on each end with constant jerk, 0..0.5)
 * Equations    ramp: a rises linearly from 0 to a_max in r T, stays, falls to 0 in r T;  a_max = (v2 - v1)/(T (1 - r))
 *              piece: v + a s + jerk s^2/2 + swing (1 - cos(rate (s + lead))), s: time since the piece began
 * Neglected    nothing
 * Source       kinematics
 */
export interface Piece {
  /** s, when it begins */
  readonly at: number
  readonly v: number
  readonly a: number
  readonly jerk: number
  /** half the height (unit of v) and turn rate (rad/s) of a cosine added to the piece */
  readonly swing?: number
  readonly rate?: number
  /** s, by which the cosine is ahead when the piece begins */
  readonly lead?: number
}

export class Profile {
  private readonly pieces: Piece[]
  private cursor = 0

  constructor(start: number) {
    this.pieces = [{ at: -Infinity, v: start, a: 0, jerk: 0 }]
  }

  /** Adds a change to `to` from time `at` over `duration` seconds. Pieces are added in time order and do not overlap. */
  ramp(at: number, to: number, duration: number, rounding: number): this {
    const from = this.speedAt(at)
    const soft = rounding * duration
    const a = (to - from) / (duration * (1 - rounding))
    const soften = (a * soft) / 2
    if (soft > 0) this.pieces.push({ at, v: from, a: 0, jerk: a / soft })
    if (rounding < 0.5) this.pieces.push({ at: at + soft, v: from + soften, a, jerk: 0 })
    if (soft > 0) this.pieces.push({ at: at + duration - soft, v: to - soften, a, jerk: -a / soft })
    this.pieces.push({ at: at + duration, v: to, a: 0, jerk: 0 })
    return this
  }

  /** Adds a piece as it is, and cuts off what was to come after its beginning. */
  add(piece: Piece): void {
    while (this.pieces.length > 1 && this.pieces[this.pieces.length - 1].at >= piece.at) this.pieces.pop()
    this.pieces.push(piece)
  }

  /** Times at which the profile has a corner, s. */
  corners(): number[] {
    return this.pieces.slice(1).map((p) => p.at)
  }

  /** Value at any time: a look-up that leaves the cursor alone. */
  speedAt(t: number): number {
    let k = this.pieces.length - 1
    while (this.pieces[k].at > t) k--
    return valueOf(this.pieces[k], t)
  }

  /** Takes the piece that begins at or holds `t`; between corners the rate function then sees one smooth piece. */
  enter(t: number): void {
    while (this.cursor + 1 < this.pieces.length && this.pieces[this.cursor + 1].at <= t) this.cursor++
  }

  /** v at time t within the piece entered. */
  value(t: number): number {
    return valueOf(this.pieces[this.cursor], t)
  }

  /** dv/dt at time t within the piece entered. */
  rate(t: number): number {
    const p = this.pieces[this.cursor]
    const s = t - p.at
    const linear = p.jerk === 0 ? p.a : p.a + p.jerk * s
    return p.swing === undefined || p.rate === undefined
      ? linear
      : linear + p.swing * p.rate * Math.sin(p.rate * (s + (p.lead ?? 0)))
  }
}

function valueOf(p: Piece, t: number): number {
  if (p.a === 0 && p.jerk === 0 && p.swing === undefined) return p.v
  const s = t - p.at
  const v = p.v + s * (p.a + 0.5 * p.jerk * s)
  return p.swing === undefined || p.rate === undefined ? v : v + p.swing * (1 - Math.cos(p.rate * (s + (p.lead ?? 0))))
}

/**
 * Extremes of the continuous solution, not of samples: between two ends of a solver step every watched signal is taken as the
 * cubic that has its values and slopes, and the cubic's own peak counts.
 *
 * Equations    tension: F = H + tau_f dH/dt, H the Hermite cubic of F_el on the step (exact at both ends in F too)
 *              slope zero of a cubic a0 + a1 x + a2 x^2 + a3 x^3: a quadratic in x
 * Neglected    what a cubic cannot follow: the run caps the step for that
 * Source       Hermite interpolation, textbook
 */
import type { Line } from '../line/line'
import type { Extreme } from './record'

export function noExtreme(): Extreme {
  return { min: Infinity, max: -Infinity, atMin: 0, atMax: 0 }
}

export function seeValue(e: Extreme, value: number, at: number): void {
  if (value < e.min) {
    e.min = value
    e.atMin = at
  }
  if (value > e.max) {
    e.max = value
    e.atMax = at
  }
}

/**
 * Takes in the cubic Hermite of (f0, d0) .. (f1, d1) on [t, t + h], plus `lag` (s) times its slope; values at both ends included.
 */
export function seeCubic(
  e: Extreme,
  f0: number,
  d0: number,
  f1: number,
  d1: number,
  t: number,
  h: number,
  lag: number,
): void {
  const s0 = d0 * h
  const s1 = d1 * h
  const rise = f1 - f0
  const k = lag / h
  const c2 = 3 * rise - 2 * s0 - s1
  const c3 = s0 + s1 - 2 * rise
  const a0 = f0 + k * s0
  const a1 = s0 + 2 * k * c2
  const a2 = c2 + 3 * k * c3
  const a3 = c3
  seeValue(e, a0, t)
  seeValue(e, f1 + k * s1, t + h)
  seeInside(e, a0, a1, a2, a3, t, h)
}

function seeInside(e: Extreme, a0: number, a1: number, a2: number, a3: number, t: number, h: number): void {
  const look = (x: number) => {
    if (x > 0 && x < 1) seeValue(e, a0 + x * (a1 + x * (a2 + x * a3)), t + x * h)
  }
  const discriminant = a2 * a2 - 3 * a3 * a1
  if (discriminant < 0) return
  // stable form of the quadratic's roots: no division by a vanishing a3
  const q = -(a2 + Math.sign(a2 || 1) * Math.sqrt(discriminant))
  if (q !== 0) look(a1 / q)
  if (a3 !== 0) look(q / (3 * a3))
}

/** Watches tensions, shares of the limit, dancers, grip and torques of a line through every solver step. */
export class Watch {
  readonly tension: Extreme[]
  readonly share: Extreme[]
  readonly position: Extreme[]
  /** positions in the last tenth of the run only */
  readonly latePosition: Extreme[]
  readonly grip: Extreme[]
  readonly torque: Extreme[]
  private readonly line: Line
  private readonly late: number
  private readonly elastic: Float64Array
  private readonly rate: Float64Array
  private readonly z: Float64Array
  private readonly speed: Float64Array
  private readonly limit: Float64Array

  /** @param late s, when the last tenth of the run begins */
  constructor(line: Line, late: number) {
    this.line = line
    this.late = late
    const fresh = (n: number) => Array.from({ length: n }, noExtreme)
    this.tension = fresh(line.spans.count)
    this.share = fresh(line.spans.count)
    this.position = fresh(line.carriages.length)
    this.latePosition = fresh(line.carriages.length)
    this.grip = fresh(line.rollers.count)
    this.torque = fresh(line.drives.length)
    this.elastic = new Float64Array(line.spans.count)
    this.rate = new Float64Array(line.spans.count)
    this.limit = new Float64Array(line.spans.count)
    this.z = new Float64Array(line.carriages.length)
    this.speed = new Float64Array(line.carriages.length)
  }

  /** Begins a stretch of continuous solution. The line has been evaluated at (t, y). */
  begin(t: number, y: readonly number[]): void {
    const { line } = this
    for (let j = 0; j < line.spans.count; j++) {
      this.limit[j] = line.spans.limitTension(j)
      seeValue(this.tension[j]!, line.spans.force[j]!, t)
      seeValue(this.share[j]!, line.spans.pull[j]! / this.limit[j]!, t)
    }
    this.keep(t, y)
  }

  /** Takes in the step from `before` to t. The line has been evaluated at (t, y), and `begin` or `step` ended at `before`. */
  step(before: number, t: number, y: readonly number[]): void {
    const { spans, carriages } = this.line
    const h = t - before
    for (let j = 0; j < spans.count; j++) {
      if (spans.taut[j] === 0) continue
      const [f0, d0, f1, d1] = [this.elastic[j]!, this.rate[j]!, spans.elastic[j]!, spans.elasticRate[j]!]
      seeCubic(this.tension[j]!, f0, d0, f1, d1, before, h, spans.damping[j]!)
      if (this.tension[j]!.min < 0) this.tension[j]!.min = 0
      const limit = this.limit[j]!
      seeCubic(this.share[j]!, f0 / limit, d0 / limit, f1 / limit, d1 / limit, before, h, 0)
    }
    for (let k = 0; k < carriages.length; k++) {
      const c = carriages[k]!
      const [z0, v0, z1, v1] = [this.z[k]!, this.speed[k]!, y[c.state]!, y[c.state + 1]!]
      seeCubic(this.position[k]!, z0, v0, z1, v1, before, h, 0)
      if (before >= this.late) seeCubic(this.latePosition[k]!, z0, v0, z1, v1, before, h, 0)
    }
    this.keep(t, y)
  }

  private keep(t: number, y: readonly number[]): void {
    const { spans, carriages, rollers, drives } = this.line
    this.elastic.set(spans.elastic)
    this.rate.set(spans.elasticRate)
    for (let k = 0; k < carriages.length; k++) {
      this.z[k] = y[carriages[k]!.state]!
      this.speed[k] = y[carriages[k]!.state + 1]!
      seeValue(this.position[k]!, this.z[k]!, t)
    }
    for (let i = 0; i < rollers.count; i++) seeValue(this.grip[i]!, rollers.tractionMargin(i, spans.force), t)
    for (let k = 0; k < drives.length; k++) seeValue(this.torque[k]!, rollers.motor[drives[k]!.roller]!, t)
  }
}

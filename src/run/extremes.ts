/**
 * Extremes of several signals side by side, of the continuous solution and not of samples: between two ends of a solver step a
 * signal is taken as the cubic that has its values and slopes, and the cubic's own peak counts.
 *
 * Equations    H: Hermite cubic on the step; signal = H + lag dH/dt (exact at both ends)
 *              slope zero of a cubic a0 + a1 x + a2 x^2 + a3 x^3: a quadratic in x
 *              no cubic leaves its end values by more than 4/27 of the sum of its end slopes' sizes: most steps need no root
 * Neglected    what a cubic cannot follow: the run caps the step for that
 * Source       Hermite interpolation, textbook
 */
import type { Extreme } from './record'

/** Greatest value of the Hermite basis function that carries an end slope: x (1 - x)^2 at x = 1/3. */
const SLOPE_REACH = 4 / 27

export class Extremes {
  readonly min: Float64Array
  readonly max: Float64Array
  readonly atMin: Float64Array
  readonly atMax: Float64Array

  constructor(count: number) {
    this.min = new Float64Array(count).fill(Infinity)
    this.max = new Float64Array(count).fill(-Infinity)
    this.atMin = new Float64Array(count)
    this.atMax = new Float64Array(count)
  }

  of(k: number): Extreme {
    return { min: this.min[k], max: this.max[k], atMin: this.atMin[k], atMax: this.atMax[k] }
  }

  see(k: number, value: number, at: number): void {
    if (value < this.min[k]) {
      this.min[k] = value
      this.atMin[k] = at
    }
    if (value > this.max[k]) {
      this.max[k] = value
      this.atMax[k] = at
    }
  }

  /**
   * Signal k takes the cubic Hermite of (f0, slope d0) .. (f1, d1) on [t, t + h], plus `lag` (s) times its slope. The value at
   * the beginning has been seen.
   */
  seeCubic(k: number, f0: number, d0: number, f1: number, d1: number, t: number, h: number, lag: number): void {
    const s0 = d0 * h
    const s1 = d1 * h
    const share = lag / h
    const rise = f1 - f0
    const c2 = 3 * rise - 2 * s0 - s1
    const c3 = s0 + s1 - 2 * rise
    const a0 = f0 + share * s0
    const a1 = s0 + 2 * share * c2
    const a2 = c2 + 3 * share * c3
    const end = f1 + share * s1
    this.see(k, end, t + h)
    const reach = SLOPE_REACH * (Math.abs(a1) + Math.abs(a1 + 2 * a2 + 3 * c3))
    if (Math.max(a0, end) + reach <= this.max[k] && Math.min(a0, end) - reach >= this.min[k]) return
    this.seeInside(k, a0, a1, a2, c3, t, h)
  }

  private seeInside(k: number, a0: number, a1: number, a2: number, a3: number, t: number, h: number): void {
    const discriminant = a2 * a2 - 3 * a3 * a1
    if (discriminant < 0) return
    // stable form of the quadratic's roots: no division by a vanishing a3
    const q = -(a2 + (a2 < 0 ? -1 : 1) * Math.sqrt(discriminant))
    const first = q === 0 ? -1 : a1 / q
    const second = a3 === 0 ? -1 : q / (3 * a3)
    if (first > 0 && first < 1) this.see(k, a0 + first * (a1 + first * (a2 + first * a3)), t + first * h)
    if (second > 0 && second < 1) this.see(k, a0 + second * (a1 + second * (a2 + second * a3)), t + second * h)
  }
}

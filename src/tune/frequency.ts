/**
 * Answers of a linear system at one frequency after another: reduced once to Hessenberg form, then solved in a number of steps that
 * grows with the square of its order only.
 *
 * Equations    H = Q' A Q by Householder reflections; (j w - H) x = Q' b by elimination with pivoting of neighbouring rows
 * Source       Laub 1981, IEEE Trans. Automatic Control 26 (method; from memory)
 */
import { Complex } from './complex'
import type { Square } from './dense'

/** Q' b for the Q of a system. */
export type Turned = Float64Array

export class FrequencySystem {
  private readonly h: Square
  private readonly q: Square
  private readonly re: Float64Array
  private readonly im: Float64Array
  private readonly xRe: Float64Array
  private readonly xIm: Float64Array

  constructor(
    a: Square,
    private readonly n: number,
  ) {
    this.h = a.slice()
    this.q = new Float64Array(n * n)
    for (let i = 0; i < n; i++) this.q[i * n + i] = 1
    for (let k = 0; k + 2 < n; k++) this.reflect(k)
    this.re = new Float64Array(n * n)
    this.im = new Float64Array(n * n)
    this.xRe = new Float64Array(n)
    this.xIm = new Float64Array(n)
  }

  /** Zeroes column k below the first subdiagonal, from both sides. */
  private reflect(k: number): void {
    const { h, q, n } = this
    let tail = 0
    for (let i = k + 2; i < n; i++) tail += h[i * n + k] ** 2
    if (tail === 0) return
    const lead = h[(k + 1) * n + k]
    const length = (lead < 0 ? -1 : 1) * Math.sqrt(lead * lead + tail)
    const v = new Float64Array(n)
    v[k + 1] = lead + length
    for (let i = k + 2; i < n; i++) v[i] = h[i * n + k]
    const beta = 1 / (length * v[k + 1])
    for (let j = k; j < n; j++) {
      let sum = 0
      for (let i = k + 1; i < n; i++) sum += v[i] * h[i * n + j]
      for (let i = k + 1; i < n; i++) h[i * n + j] -= beta * sum * v[i]
    }
    for (const m of [h, q]) {
      for (let i = 0; i < n; i++) {
        let sum = 0
        for (let j = k + 1; j < n; j++) sum += m[i * n + j] * v[j]
        for (let j = k + 1; j < n; j++) m[i * n + j] -= beta * sum * v[j]
      }
    }
    for (let i = k + 2; i < n; i++) h[i * n + k] = 0
  }

  /** A column of inputs, or a row of outputs, as this system sees it. */
  turn(b: Float64Array): Turned {
    const { q, n } = this
    const turned = new Float64Array(n)
    for (let j = 0; j < n; j++) {
      let sum = 0
      for (let i = 0; i < n; i++) sum += q[i * n + j] * b[i]
      turned[j] = sum
    }
    return turned
  }

  /**
   * c (s - A)^-1 (b + s bRate) for every column and row, at s: a list for each column. `s` is j w for rates, exp(j w T) for a sampled
   * system. Columns and rows are turned ones.
   */
  answer(
    s: Complex,
    columns: readonly (readonly [Turned, Turned | undefined])[],
    rows: readonly Turned[],
  ): Complex[][] {
    return columns.map(([b, bRate]) => {
      this.solve(s, b, bRate)
      const { xRe, xIm, n } = this
      return rows.map((row) => {
        let [re, im] = [0, 0]
        for (let i = 0; i < n; i++) {
          re += row[i] * xRe[i]
          im += row[i] * xIm[i]
        }
        return new Complex(re, im)
      })
    })
  }

  private solve(s: Complex, b: Turned, bRate: Turned | undefined): void {
    const { h, re, im, xRe, xIm, n } = this
    for (let i = 0; i < n * n; i++) {
      re[i] = -h[i]
      im[i] = 0
    }
    for (let i = 0; i < n; i++) {
      re[i * n + i] += s.re
      im[i * n + i] += s.im
      const rate = bRate === undefined ? 0 : bRate[i]
      xRe[i] = b[i] + s.re * rate
      xIm[i] = s.im * rate
    }
    for (let k = 0; k + 1 < n; k++) this.eliminate(k)
    for (let i = n - 1; i >= 0; i--) {
      let [sumRe, sumIm] = [xRe[i], xIm[i]]
      for (let j = i + 1; j < n; j++) {
        const at = i * n + j
        sumRe -= re[at] * xRe[j] - im[at] * xIm[j]
        sumIm -= re[at] * xIm[j] + im[at] * xRe[j]
      }
      const at = i * n + i
      const square = re[at] * re[at] + im[at] * im[at]
      xRe[i] = (sumRe * re[at] + sumIm * im[at]) / square
      xIm[i] = (sumIm * re[at] - sumRe * im[at]) / square
    }
  }

  /** Takes row k, or the one below if that is larger there, out of the row below. */
  private eliminate(k: number): void {
    const { re, im, xRe, xIm, n } = this
    const [top, low] = [k * n, (k + 1) * n]
    if (Math.abs(re[low + k]) + Math.abs(im[low + k]) > Math.abs(re[top + k]) + Math.abs(im[top + k])) {
      for (let j = k; j < n; j++) {
        let held = re[top + j]
        re[top + j] = re[low + j]
        re[low + j] = held
        held = im[top + j]
        im[top + j] = im[low + j]
        im[low + j] = held
      }
      let held = xRe[k]
      xRe[k] = xRe[k + 1]
      xRe[k + 1] = held
      held = xIm[k]
      xIm[k] = xIm[k + 1]
      xIm[k + 1] = held
    }
    const square = re[top + k] * re[top + k] + im[top + k] * im[top + k]
    if (square === 0) return
    const fRe = (re[low + k] * re[top + k] + im[low + k] * im[top + k]) / square
    const fIm = (im[low + k] * re[top + k] - re[low + k] * im[top + k]) / square
    if (fRe === 0 && fIm === 0) return
    for (let j = k + 1; j < n; j++) {
      const [a, b] = [re[top + j], im[top + j]]
      re[low + j] -= fRe * a - fIm * b
      im[low + j] -= fRe * b + fIm * a
    }
    xRe[k + 1] -= fRe * xRe[k] - fIm * xIm[k]
    xIm[k + 1] -= fRe * xIm[k] + fIm * xRe[k]
  }
}

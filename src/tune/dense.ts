/**
 * Dense real matrices as flat arrays, row by row: what the linear models are made of.
 *
 * Equations    LU with partial pivoting; exp(A) by scaling, a diagonal Pade approximant of order 8 and squaring
 * Source       Golub & Van Loan, Matrix Computations (from memory)
 */

/** Square matrix of order n: element (i, k) at i n + k. */
export type Square = Float64Array

export function identity(n: number): Square {
  const one = new Float64Array(n * n)
  for (let i = 0; i < n; i++) one[i * n + i] = 1
  return one
}

/** a b for square matrices of order n. */
export function product(a: Square, b: Square, n: number): Square {
  const c = new Float64Array(n * n)
  for (let i = 0; i < n; i++) {
    for (let k = 0; k < n; k++) {
      const f = a[i * n + k]
      if (f === 0) continue
      for (let j = 0; j < n; j++) c[i * n + j] += f * b[k * n + j]
    }
  }
  return c
}

/** y = a x for a square matrix of order n. */
export function apply(a: Square, x: Float64Array, n: number, y: Float64Array): Float64Array {
  for (let i = 0; i < n; i++) {
    let sum = 0
    for (let k = 0; k < n; k++) sum += a[i * n + k] * x[k]
    y[i] = sum
  }
  return y
}

/** Factors of a square matrix; `singular` when a pivot vanishes against the largest. */
export class Factors {
  singular = false
  private readonly lu: Square
  private readonly order: Int32Array

  constructor(
    a: Square,
    private readonly n: number,
  ) {
    this.lu = a.slice()
    this.order = Int32Array.from({ length: n }, (_, i) => i)
    const { lu, order } = this
    let [least, most] = [Infinity, 0]
    for (let k = 0; k < n; k++) {
      let pivot = k
      for (let i = k + 1; i < n; i++) if (Math.abs(lu[i * n + k]) > Math.abs(lu[pivot * n + k])) pivot = i
      if (pivot !== k) this.swap(k, pivot, order)
      const size = Math.abs(lu[k * n + k])
      least = Math.min(least, size)
      most = Math.max(most, size)
      if (size === 0) break
      for (let i = k + 1; i < n; i++) {
        const f = lu[i * n + k] / lu[k * n + k]
        lu[i * n + k] = f
        if (f !== 0) for (let j = k + 1; j < n; j++) lu[i * n + j] -= f * lu[k * n + j]
      }
    }
    this.singular = n > 0 && !(least > 1e-13 * most)
  }

  private swap(i: number, k: number, order: Int32Array): void {
    const { lu, n } = this
    for (let j = 0; j < n; j++) {
      const held = lu[i * n + j]
      lu[i * n + j] = lu[k * n + j]
      lu[k * n + j] = held
    }
    const held = order[i]
    order[i] = order[k]
    order[k] = held
  }

  /** Solves a x = b. */
  solve(b: Float64Array): Float64Array {
    const { lu, n, order } = this
    const x = new Float64Array(n)
    for (let i = 0; i < n; i++) {
      let sum = b[order[i]]
      for (let k = 0; k < i; k++) sum -= lu[i * n + k] * x[k]
      x[i] = sum
    }
    for (let i = n - 1; i >= 0; i--) {
      let sum = x[i]
      for (let k = i + 1; k < n; k++) sum -= lu[i * n + k] * x[k]
      x[i] = sum / lu[i * n + i]
    }
    return x
  }

  /** Solves a X = B for a square B. */
  solveSquare(b: Square): Square {
    const { n } = this
    const x = new Float64Array(n * n)
    const column = new Float64Array(n)
    for (let j = 0; j < n; j++) {
      for (let i = 0; i < n; i++) column[i] = b[i * n + j]
      const solved = this.solve(column)
      for (let i = 0; i < n; i++) x[i * n + j] = solved[i]
    }
    return x
  }
}

const PADE_ORDER = 8

/** exp(a t) for a square matrix of order n. */
export function exponential(a: Square, t: number, n: number): Square {
  let norm = 0
  for (let i = 0; i < n; i++) {
    let sum = 0
    for (let k = 0; k < n; k++) sum += Math.abs(a[i * n + k])
    norm = Math.max(norm, sum * t)
  }
  const halvings = norm > 0.5 ? Math.ceil(Math.log2(norm / 0.5)) : 0
  const step = t / 2 ** halvings
  const scaled = a.map((x) => x * step)
  let result = pade(scaled, n)
  for (let k = 0; k < halvings; k++) result = product(result, result, n)
  return result
}

function pade(a: Square, n: number): Square {
  const above = identity(n)
  const below = identity(n)
  let power = identity(n)
  let c = 1
  for (let k = 1; k <= PADE_ORDER; k++) {
    c *= (PADE_ORDER - k + 1) / ((2 * PADE_ORDER - k + 1) * k)
    power = product(power, a, n)
    const sign = k % 2 === 0 ? 1 : -1
    for (let i = 0; i < n * n; i++) {
      above[i] += c * power[i]
      below[i] += sign * c * power[i]
    }
  }
  return new Factors(below, n).solveSquare(above)
}

/** exp of [A B; 0 0] t, as states move from one instant to the next under inputs that are held: [Ad Bd; 0 1]. */
export function heldOver(a: Square, n: number, columns: readonly Float64Array[], t: number): Square {
  const size = n + columns.length
  const whole = new Float64Array(size * size)
  for (let i = 0; i < n; i++) {
    for (let k = 0; k < n; k++) whole[i * size + k] = a[i * n + k]
    columns.forEach((column, k) => (whole[i * size + n + k] = column[i]))
  }
  return exponential(whole, t, size)
}

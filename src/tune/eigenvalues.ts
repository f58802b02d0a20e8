/**
 * Eigenvalues alone of a real matrix: several times quicker than with vectors, for maps of thousands of cells.
 *
 * Equations    reduction to Hessenberg form by elimination with pivoting; implicit double-shift QR with deflation
 * Source       Francis 1961; Wilkinson, The Algebraic Eigenvalue Problem (from memory)
 */
import type { Square } from './dense'

export interface Eigenvalues {
  readonly re: Float64Array
  readonly im: Float64Array
}

const MOST_SWEEPS = 60

/** Eigenvalues of `a` of order n; NaN where the iteration has not converged. Leaves `a` as it was. */
export function eigenvaluesOf(a: Square, n: number): Eigenvalues {
  const h = a.slice()
  reduce(h, n)
  const re = new Float64Array(n).fill(Number.NaN)
  const im = new Float64Array(n)
  let size = 0
  for (let i = 0; i < n * n; i++) size += Math.abs(h[i])
  let last = n - 1
  let sweeps = 0
  while (last >= 0) {
    const first = deflate(h, n, last, size)
    if (first === last) {
      re[last] = h[last * n + last]
      last -= 1
      sweeps = 0
    } else if (first === last - 1) {
      pair(h, n, last, re, im)
      last -= 2
      sweeps = 0
    } else if (sweeps++ > MOST_SWEEPS || !Number.isFinite(size)) return { re, im }
    else sweep(h, n, first, last, sweeps)
  }
  return { re, im }
}

/** To Hessenberg form. */
function reduce(h: Square, n: number): void {
  for (let m = 1; m < n - 1; m++) {
    let pivot = m
    for (let i = m + 1; i < n; i++) if (Math.abs(h[i * n + m - 1]) > Math.abs(h[pivot * n + m - 1])) pivot = i
    const top = h[pivot * n + m - 1]
    if (top === 0) continue
    if (pivot !== m) exchange(h, n, pivot, m)
    for (let i = m + 1; i < n; i++) {
      const f = h[i * n + m - 1] / top
      if (f === 0) continue
      h[i * n + m - 1] = 0
      for (let j = m; j < n; j++) h[i * n + j] -= f * h[m * n + j]
      for (let j = 0; j < n; j++) h[j * n + m] += f * h[j * n + i]
    }
  }
}

/** Exchanges rows and columns i and k, from column k - 1 on. */
function exchange(h: Square, n: number, i: number, k: number): void {
  for (let j = k - 1; j < n; j++) {
    const held = h[i * n + j]
    h[i * n + j] = h[k * n + j]
    h[k * n + j] = held
  }
  for (let j = 0; j < n; j++) {
    const held = h[j * n + i]
    h[j * n + i] = h[j * n + k]
    h[j * n + k] = held
  }
}

/** First row of the block that ends at `last` and has split off. */
function deflate(h: Square, n: number, last: number, size: number): number {
  let first = last
  for (; first > 0; first--) {
    const near = Math.abs(h[(first - 1) * n + first - 1]) + Math.abs(h[first * n + first])
    if (Math.abs(h[first * n + first - 1]) > Number.EPSILON * (near === 0 ? size : near)) continue
    h[first * n + first - 1] = 0
    return first
  }
  return 0
}

/** Both eigenvalues of the block of two that ends at `last`. */
function pair(h: Square, n: number, last: number, re: Float64Array, im: Float64Array): void {
  const up = last - 1
  const half = (h[up * n + up] - h[last * n + last]) / 2
  const cross = h[last * n + up] * h[up * n + last]
  const root = half * half + cross
  const middle = h[last * n + last] + half
  if (root < 0) {
    re[up] = re[last] = middle
    im[up] = Math.sqrt(-root)
    im[last] = -im[up]
    return
  }
  const far = half + (half < 0 ? -1 : 1) * Math.sqrt(root)
  re[up] = h[last * n + last] + far
  re[last] = far === 0 ? h[last * n + last] : h[last * n + last] - cross / far
}

/** One implicit double-shift step on rows first..last. */
function sweep(h: Square, n: number, first: number, last: number, count: number): void {
  const up = last - 1
  let trace = h[up * n + up] + h[last * n + last]
  let determinant = h[up * n + up] * h[last * n + last] - h[last * n + up] * h[up * n + last]
  if (count % 10 === 0) {
    // a stalled iteration is shaken loose by another shift
    const shake = Math.abs(h[last * n + up]) + Math.abs(h[up * n + up - 1])
    trace = 1.5 * shake
    determinant = shake * shake
  }
  const a = h[first * n + first]
  const below = h[(first + 1) * n + first]
  let p = a * a + h[first * n + first + 1] * below - trace * a + determinant
  let q = below * (a + h[(first + 1) * n + first + 1] - trace)
  let r = below * h[(first + 2) * n + first + 1]
  for (let k = first; k < last; k++) {
    const rows = k + 2 <= last ? 3 : 2
    if (k > first) {
      p = h[k * n + k - 1]
      q = h[(k + 1) * n + k - 1]
      r = rows === 3 ? h[(k + 2) * n + k - 1] : 0
    }
    reflect(h, n, k, first, last, rows, p, q, r)
  }
}

/** Householder reflection that turns (p, q, r) into its first axis, from both sides at rows and columns k, k + 1, k + 2. */
function reflect(
  h: Square,
  n: number,
  k: number,
  first: number,
  last: number,
  rows: number,
  p: number,
  q: number,
  r: number,
): void {
  const length = (p < 0 ? -1 : 1) * Math.sqrt(p * p + q * q + r * r)
  if (length === 0) return
  const lead = p + length
  const b = q / lead
  const c = r / lead
  const beta = lead / length
  if (k > first) {
    h[k * n + k - 1] = -length
    h[(k + 1) * n + k - 1] = 0
    if (rows === 3) h[(k + 2) * n + k - 1] = 0
  }
  const [one, two, three] = [k * n, (k + 1) * n, (k + 2) * n]
  for (let j = k; j <= last; j++) {
    const sum = beta * (h[one + j] + b * h[two + j] + (rows === 3 ? c * h[three + j] : 0))
    h[one + j] -= sum
    h[two + j] -= sum * b
    if (rows === 3) h[three + j] -= sum * c
  }
  const end = Math.min(last, k + 3)
  for (let i = first; i <= end; i++) {
    const at = i * n + k
    const sum = beta * (h[at] + b * h[at + 1] + (rows === 3 ? c * h[at + 2] : 0))
    h[at] -= sum
    h[at + 1] -= sum * b
    if (rows === 3) h[at + 2] -= sum * c
  }
}

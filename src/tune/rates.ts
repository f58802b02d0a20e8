/**
 * Rates at which a line with programs moves, found again from what its samples show.
 *
 * Variables    z: eigenvalues of the line from one period to the next; lambda: those of the line between samples, outputs of programs held
 * Equations    s = (ln |z| + j (arg z + 2 pi k))/P; each z goes with the lambda whose exp(lambda P) lies nearest, each lambda with one z,
 *              the nearest pairs first; k brings s nearest to that lambda, k = 0 where none is left
 *              z that do not outlast a period are not told by samples: there the line moves as lambda says
 * Neglected    a loop so strong that it takes a swing of the film further than half its way to the next one
 * Source       sampled linear systems, textbook; which turn to take: own derivation
 */
import type { ClosedLine } from './closed'
import type { Square } from './dense'
import type { Eigenvalues } from './eigenvalues'

/** A rate s, one of each pair, with where it comes from: eigenvalue `index` of the period, or of the line between samples. */
export interface Rate {
  readonly re: number
  /** 0 or more */
  readonly im: number
  readonly from: 'period' | 'between'
  readonly index: number
}

/** What is left of a mode after one period below which the samples no longer tell it; between them the line moves alone. */
const FORGOTTEN = 0.05

/** Rates of a line with programs. Eigenvalues are finite and come in pairs, that with im > 0 among them. */
export function sampledRates(z: Eigenvalues, between: Eigenvalues, period: number): Rate[] {
  const { ofPeriod, ofBetween } = partners(z, between, period)
  const outlasts = (k: number) => k >= 0 && Math.hypot(z.re[k], z.im[k]) >= FORGOTTEN
  const turn = (2 * Math.PI) / period
  const found: Rate[] = []
  for (let k = 0; k < z.re.length; k++) {
    if (z.im[k] < 0 || !outlasts(k)) continue
    const angle = Math.atan2(z.im[k], z.re[k]) / period
    const near = ofPeriod[k] < 0 ? 0 : between.im[ofPeriod[k]]
    const im = Math.abs(angle + turn * Math.round((near - angle) / turn))
    found.push({ re: Math.log(Math.hypot(z.re[k], z.im[k])) / period, im, from: 'period', index: k })
  }
  for (let k = 0; k < between.re.length; k++) {
    if (between.im[k] < 0 || outlasts(ofBetween[k]) || Math.exp(between.re[k] * period) >= 2 * FORGOTTEN) continue
    found.push({ re: between.re[k], im: between.im[k], from: 'between', index: k })
  }
  return found
}

/** Which z goes with which lambda; -1 where none is left. */
function partners(z: Eigenvalues, between: Eigenvalues, period: number) {
  const [count, others] = [z.re.length, between.re.length]
  const apart = new Float64Array(count * others)
  for (let i = 0; i < others; i++) {
    const left = Math.exp(between.re[i] * period)
    const [x, y] = [left * Math.cos(between.im[i] * period), left * Math.sin(between.im[i] * period)]
    for (let k = 0; k < count; k++) apart[k * others + i] = Math.hypot(z.re[k] - x, z.im[k] - y)
  }
  const ofPeriod = new Int32Array(count).fill(-1)
  const ofBetween = new Int32Array(others).fill(-1)
  for (const pair of new Uint32Array(apart.length).map((_, p) => p).sort((a, b) => apart[a] - apart[b])) {
    const [k, i] = [Math.floor(pair / others), pair % others]
    if (ofPeriod[k] >= 0 || ofBetween[i] >= 0) continue
    ofPeriod[k] = i
    ofBetween[i] = k
  }
  return { ofPeriod, ofBetween }
}

/** 1/s, below which nothing is taken to move: a film total, a dancer that nothing brings back */
export const STILL = 1e-5

/** Least -Re s/|s|: negative as soon as anything grows, 1 where nothing swings. */
export function leastDampingAmong(rates: readonly { readonly re: number; readonly im: number }[]): number {
  let least = 1
  for (const { re, im } of rates) {
    const size = Math.hypot(re, im)
    if (size > STILL) least = Math.min(least, -re / size)
  }
  return least
}

/** Rates between samples without the memories of programs, which then stand still: the matrix, and which states it is of. */
export function heldLine({ n, between, loops }: ClosedLine): {
  readonly matrix: Square
  readonly states: readonly number[]
} {
  const memories = new Set<number>()
  loops.forEach(({ law, first: own }, k) => {
    const next = loops[k + 1]?.first ?? n
    if (law.program !== undefined) for (let i = own; i < next; i++) memories.add(i)
  })
  const states = Array.from({ length: n }, (_, k) => k).filter((k) => !memories.has(k))
  const size = states.length
  const matrix = new Float64Array(size * size)
  states.forEach((row, i) => states.forEach((column, k) => (matrix[i * size + k] = between[row * n + column])))
  return { matrix, states }
}

/**
 * The line with its trims at work, as one matrix.
 *
 * Variables    states of the plant (plant.ts), then those of the trims: a continuous trim its integral; a program m_f, d, X, the output
 *              held and the output waiting
 * Equations    all trims continuous: dx/dt = M x
 *              some are programs: x just before a sample to x just before the next that all programs share: M = product of (exp of the
 *              held line over one step) x (samples taken at its beginning); eigenvalue z over period P stands for s = ln(z)/P
 * Neglected    as in plant.ts and law.ts; programs whose sample times share no period within 64 of their greatest common divisor are refused
 * Source       sampled linear systems, textbook; law of a program: program.ts
 */
import { exponential, identity, product, type Square } from './dense'
import type { Law } from './law'
import type { OpenLoop, Plant } from './plant'
import type { Trouble } from './setup'
import type { StateInfo } from './states'

export interface ClosedLine {
  readonly ok: true
  readonly n: number
  readonly matrix: Square
  /** s from one application of the matrix to the next; undefined for a matrix of rates */
  readonly period: number | undefined
  /** continuous rates with all outputs held, of the same states: what moves between two samples */
  readonly between: Square
  readonly states: readonly StateInfo[]
  readonly loops: readonly Placed[]
}

/** A trim at work, with the place of its own states. */
export interface Placed {
  readonly loop: OpenLoop
  readonly law: Law
  /** index of its first own state */
  readonly first: number
}

/** Places of a program's own states after its first. */
export const OWN = { filtered: 0, slope: 1, integral: 2, held: 3, waiting: 4 } as const
const PROGRAM_STATES = 5

/** Longest common period, in steps. */
const MOST_STEPS = 64
/** `kept`: loops whose outputs are kept as they are; their states stay in place. */
export function closedLine(plant: Plant, kept: readonly OpenLoop[] = []): ClosedLine | Trouble {
  const { n, states } = plant
  const all = [...states]
  const placed: Placed[] = []
  for (const loop of plant.loops) {
    if (loop.saturated) continue
    const { law } = loop
    const own = law.program !== undefined ? PROGRAM_STATES : law.integral > 0 ? 1 : 0
    placed.push({ loop, law, first: all.length })
    const place = states[loop.measured].place
    for (let k = 0; k < own; k++) all.push({ index: -1, name: loop.name, part: loop.name, place, kind: 'loop' })
  }
  const size = all.length
  const between = new Float64Array(size * size)
  for (let i = 0; i < n; i++) for (let k = 0; k < n; k++) between[i * size + k] = plant.a[i * n + k]
  for (const one of placed) {
    if (one.law.program !== undefined || !kept.includes(one.loop)) addContinuous(between, size, n, one)
  }
  const programs = placed.filter(({ law }) => law.program !== undefined)
  const common = { ok: true, n: size, between, states: all, loops: placed } as const
  if (programs.length === 0) return { ...common, matrix: between, period: undefined }
  const steps = stepsOf(programs)
  if (steps.count > MOST_STEPS) return { ok: false, field: 'sample', say: unlike(programs) }
  return { ...common, ...sampled(between, size, programs, steps) }
}

/** What a trim adds to the rates: its law where it is continuous, its held output where it is a program. */
function addContinuous(m: Square, size: number, n: number, { loop, law, first }: Placed): void {
  const { b } = loop.input
  if (law.program !== undefined) {
    for (let i = 0; i < n; i++) m[i * size + first + OWN.held] += b[i]
    return
  }
  for (let i = 0; i < n; i++) {
    m[i * size + loop.measured] += b[i] * law.strength * law.gain * loop.scale
    if (law.integral > 0) m[i * size + first] += b[i] * law.strength * law.integral
  }
  if (law.integral > 0) m[first * size + loop.measured] += loop.scale
}

function unlike(programs: readonly Placed[]): string {
  const times = programs.map(({ law }) => `${Math.round((law.program?.sample ?? 0) * 1e4) / 10} ms`)
  return `The programs sample every ${[...new Set(times)].join(', ')}: these meet too seldom to be looked at together. Choose sample times that are multiples of one another.`
}

interface Steps {
  /** s */
  readonly step: number
  /** steps of each program from sample to sample, and until all meet again */
  readonly counts: readonly number[]
  readonly count: number
}

function stepsOf(programs: readonly Placed[]): Steps {
  const times = programs.map(({ law }) => law.program?.sample ?? 1)
  const step = times.reduce(commonDivisor)
  const counts = times.map((t) => Math.round(t / step))
  return { step, counts, count: counts.reduce(commonMultiple) }
}

function sampled(
  between: Square,
  size: number,
  programs: readonly Placed[],
  { step, counts, count }: Steps,
): { matrix: Square; period: number } {
  const hold = exponential(between, step, size)
  let whole = identity(size)
  for (let k = 0; k < count; k++) {
    const due = programs.filter((_, p) => k % counts[p] === 0)
    if (due.length > 0) whole = product(samples(size, due), whole, size)
    whole = product(hold, whole, size)
  }
  return { matrix: whole, period: count * step }
}

/** An output of the plant as a row over all states: what trims do at once comes on top. */
export function closedRow({ n, loops }: ClosedLine, c: Float64Array, direct: (loop: OpenLoop) => number): Float64Array {
  const row = new Float64Array(n)
  row.set(c)
  for (const { loop, law, first } of loops) {
    const d = direct(loop)
    if (law.program !== undefined) row[first + OWN.held] += d
    else {
      row[loop.measured] += d * law.strength * law.gain * loop.scale
      if (law.integral > 0) row[first] += d * law.strength * law.integral
    }
  }
  return row
}

/** What a set point one unit higher does: to the rates under a continuous law, to the own states at a sample of a program. */
export function setPointColumn({ n }: ClosedLine, { loop, law, first }: Placed): Float64Array {
  const column = new Float64Array(n)
  const { program, strength, gain, integral } = law
  if (program === undefined) {
    loop.input.b.forEach((b, i) => (column[i] = -b * strength * gain))
    if (integral > 0) column[first] = -1
    return column
  }
  if (integral > 0) column[first + OWN.integral] = -program.sample
  column[first + OWN.waiting] = -strength * gain
  if (!program.delayed) column[first + OWN.held] = -strength * gain
  return column
}

/** One sample of each of these programs, as a matrix. */
export function samples(size: number, due: readonly Placed[]): Square {
  const m = identity(size)
  for (const { loop, law, first } of due) {
    const { program, gain, integral, strength } = law
    if (program === undefined) continue
    const { sample, filterShare: a, derivativeTime, derivativeShare: b, delayed } = program
    const row = (own: number) => (first + own) * size
    const set = (own: number, values: readonly (readonly [number, number])[]) => {
      for (let k = 0; k < size; k++) m[row(own) + k] = 0
      for (const [k, value] of values) m[row(own) + k] = value
    }
    const [filtered, slope, sum] = [first + OWN.filtered, first + OWN.slope, first + OWN.integral]
    // of the measured value (in its size), of m_f before, of d before
    const now = [a * loop.scale, 1 - a] as const
    const rise = (b * a) / sample
    const steep = [rise * loop.scale, -rise, 1 - b] as const
    set(OWN.filtered, [
      [loop.measured, now[0]],
      [filtered, now[1]],
    ])
    set(OWN.slope, [
      [loop.measured, steep[0]],
      [filtered, steep[1]],
      [slope, steep[2]],
    ])
    // without an integral gain the sum is of no use, and would only count as one that never dies away
    const summed = [
      [loop.measured, sample * now[0]],
      [filtered, sample * now[1]],
      [sum, 1],
    ] as const
    set(OWN.integral, integral > 0 ? summed : [])
    const output = [
      [loop.measured, strength * gain * (now[0] + derivativeTime * steep[0])],
      [filtered, strength * gain * (now[1] + derivativeTime * steep[1])],
      [slope, strength * gain * derivativeTime * steep[2]],
      [sum, strength * integral],
    ] as const
    set(OWN.waiting, output)
    set(OWN.held, delayed ? [[first + OWN.waiting, 1]] : output)
  }
  return m
}

function commonDivisor(a: number, b: number): number {
  let [large, small] = [Math.max(a, b), Math.min(a, b)]
  while (small > 1e-7) [large, small] = [small, large % small > small * (1 - 1e-6) ? 0 : large % small]
  return large
}

function commonMultiple(a: number, b: number): number {
  return Math.round((a * b) / commonDivisor(a, b))
}

/**
 * The gain round one loop, and how far it stands from swinging up.
 *
 * Variables    L(j w): from the output of a trim through the line to what it measures and through its law back, minus one at the point of
 *              no return
 * Equations    continuous: L = -C(j w) G(j w), G = c (j w - A)^-1 b
 *              program: L = -C(z) c (z - Ad)^-1 Bd, z = exp(j w T), Ad = exp(A T), Bd the integral of exp(A t) b over a sample: exact for
 *              the line between held outputs; filter, derivative, integral and one sample of delay in C (law.ts)
 *              other loops closed: continuous ones, and programs of the same sample time exactly; programs of another sample time as
 *              their continuous law without filter, derivative and delay; whether it settles: closed.ts, all as they sample
 * Neglected    as in plant.ts
 * Source       Nyquist; sampled systems, textbook
 */
import { Complex } from './complex'
import { closedLine } from './closed'
import { heldOver, type Square } from './dense'
import { eigenvaluesOf, type Eigenvalues } from './eigenvalues'
import { FrequencySystem, type Turned } from './frequency'
import { lawAt, type Law } from './law'
import { marginsOf, type LoopMargins } from './margins'
import type { OpenLoop, Plant } from './plant'
import { STILL } from './rates'
import type { Trouble } from './setup'

export interface LoopPoint {
  /** rad/s */
  readonly w: number
  readonly gain: Complex
}

export interface LoopGain {
  readonly ok: true
  readonly name: string
  /** what it measures and what it drives */
  readonly measures: string
  readonly drives: string
  /** rising in frequency, up to half the sampling rate of a program */
  readonly points: readonly LoopPoint[]
  readonly margins: LoopMargins
  /** whether the line with all its loops closed settles: without that, margins say nothing */
  readonly stable: boolean
  /** how it was computed, for people */
  readonly method: string
}

/** Loop gain as a function of frequency (rad/s). */
interface Loop {
  readonly at: (w: number) => Complex
  /** rad/s, to which it means something */
  readonly top: number
  /** rad/s, where the line itself swings lightly: frequencies not to be stepped over */
  readonly lively: readonly number[]
  readonly law: Law
}

const LOWEST = 1e-3
/** Share of half the sampling rate up to which a loop is followed: beyond, only rounding tells on which side of the real axis it is. */
const BEFORE = 1 - 1e-7
const POINTS_PER_DECADE = 60
/** Below this at every frequency a loop measures nothing of what it drives. */
const DEAF = 1e-6

/** Gain and margins of the loop of trim `k` of the scenario's corrections (position trims first, then tension trims). */
export function loopGain(plant: Plant, k: number): LoopGain | Trouble {
  const open = plant.loops[k]
  if (open === undefined) return { ok: false, field: 'control', say: NO_LOOP }
  if (open.saturated) return { ok: false, field: `control/${open.name}`, say: atLimit(open) }
  const closed = closedLine(plant)
  if (!closed.ok) return closed
  const loop = loopOf(plant, open)
  const { measures, drives } = ends(open)
  const sample = loop.law.program?.sample
  const half = sample === undefined ? undefined : loop.top
  const points = frequenciesUpTo(half === undefined ? loop.top : half * BEFORE, loop.lively).map((w) => {
    return { w, gain: loop.at(w) }
  })
  if (points.every(({ gain }) => !(gain.size > DEAF))) {
    return { ok: false, field: `control/${open.name}`, say: deaf(plant, open) }
  }
  return {
    ok: true,
    name: open.name,
    ...{ measures, drives, points },
    margins: marginsOf(points, loop.at, half),
    stable: restful(eigenvaluesOf(closed.matrix, closed.n), closed.period),
    method: methodOf(plant, open),
  }
}

/** How the gain was found, and what was not taken as it is. */
function methodOf(plant: Plant, open: OpenLoop): string {
  const sample = open.law.program?.sample
  const unlike = plant.loops.filter(({ saturated, law }) => {
    return !saturated && law.program !== undefined && law.program.sample !== sample
  })
  const names = unlike.map(({ name }) => `the ${name}`).join(' and ')
  const own = sample === undefined ? 'continuous law on the line' : `program every ${Math.round(sample * 1e4) / 10} ms`
  if (unlike.length > 0)
    return `${own}; ${names}, sampling otherwise, by its continuous law without filter, derivative and delay`
  return sample === undefined ? own : `${own}, exact at its samples`
}

const NO_LOOP =
  'The line has no position or tension trim, so there is no loop to look at. Add a control that measures a dancer or a load cell.'

function ends(open: OpenLoop): { measures: string; drives: string } {
  const { law } = open.correction
  return { measures: 'measures' in law && typeof law.measures === 'string' ? law.measures : '', drives: law.drives }
}

function atLimit({ name }: OpenLoop): string {
  return `The ${name} stands at its limit, where it can do nothing more. Raise the limit, or bring speeds and draws closer to what film needs.`
}

function deaf({ line }: Plant, open: OpenLoop): string {
  const { measures, drives } = ends(open)
  if (line.spec.speed.start === 0) {
    return `At standstill the trim of ${drives} moves nothing: a share of no speed is no speed. Look at it at a line speed, or take a trim of kind "speed".`
  }
  return `What ${drives} does never reaches ${measures}: the loop measures nothing of what it drives. Let it measure a part of the same zone, or drive another roller.`
}

/** Whether the line with its loops closed comes to rest; what only stands still (film total, a neutral dancer) does not count. */
export function settles(plant: Plant): boolean {
  const closed = closedLine(plant)
  return closed.ok && restful(eigenvaluesOf(closed.matrix, closed.n), closed.period)
}

/** Whether a line with these eigenvalues, of rates or of one period, comes to rest. */
export function restful({ re, im }: Eigenvalues, period: number | undefined): boolean {
  return re.every((x, k) => (period === undefined ? x : Math.log(Math.hypot(x, im[k])) / period) < STILL)
}

export function loopOf(plant: Plant, open: OpenLoop): Loop {
  const { law } = open
  const others = plant.loops.filter((one) => one !== open && !one.saturated)
  const { program } = law
  if (program === undefined) {
    const { matrix, size, widen } = closeOthers(plant, others)
    const system = new FrequencySystem(matrix, size)
    const b = system.turn(widen(open.input.b))
    const c = system.turn(widen(unit(plant.n, open)))
    const top = highest(plant)
    return {
      law,
      top,
      lively: livelyOf(matrix, size, undefined),
      at: (w) => around(system, new Complex(0, w), b, c, lawAt(law, w)),
    }
  }
  const together = others.filter((one) => one.law.program?.sample === program.sample)
  const { matrix, size, widen } = closeOthers(
    plant,
    others.filter((one) => !together.includes(one)),
  )
  const held = [open, ...together].map((one) => widen(one.input.b))
  const moved = heldOver(matrix, size, held, program.sample)
  const wide = size + held.length
  const ad = square(moved, wide, size)
  const system = new FrequencySystem(ad, size)
  const columns = held.map((_, k) => system.turn(column(moved, wide, size, size + k)))
  const rows = [open, ...together].map((one) => system.turn(widen(unit(plant.n, one))))
  const laws = together.map(({ law }) => law)
  const at = (w: number) => {
    const z = Complex.turned(w * program.sample)
    const answers = system.answer(
      z,
      columns.map((b) => [b, undefined]),
      rows,
    )
    return closeSampled(
      answers,
      laws.map((one) => lawAt(one, w)),
    )
      .by(lawAt(law, w))
      .times(-1)
  }
  return { law, top: Math.PI / program.sample, lively: livelyOf(ad, size, program.sample), at }
}

function around(system: FrequencySystem, s: Complex, b: Turned, c: Turned, law: Complex): Complex {
  return system
    .answer(s, [[b, undefined]], [c])[0][0]
    .by(law)
    .times(-1)
}

/** Row that reads what a loop measures, SI. */
function unit(n: number, { measured, scale }: OpenLoop): Float64Array {
  const row = new Float64Array(n)
  row[measured] = scale
  return row
}

/** Rates of the line with these loops closed by their continuous laws. */
function closeOthers(
  plant: Plant,
  others: readonly OpenLoop[],
): { matrix: Square; size: number; widen: (x: Float64Array) => Float64Array } {
  const laws = others.map(({ law }) => law)
  const { n } = plant
  const size = n + laws.filter((law) => law.integral > 0).length
  const matrix = new Float64Array(size * size)
  for (let i = 0; i < n; i++) for (let k = 0; k < n; k++) matrix[i * size + k] = plant.a[i * n + k]
  let memory = n
  others.forEach(({ input, measured, scale }, k) => {
    const { strength, gain, integral } = laws[k]
    for (let i = 0; i < n; i++) {
      matrix[i * size + measured] += input.b[i] * strength * gain * scale
      if (integral > 0) matrix[i * size + memory] += input.b[i] * strength * integral
    }
    if (integral > 0) matrix[memory++ * size + measured] += scale
  })
  const widen = (x: Float64Array) => {
    const wide = new Float64Array(size)
    wide.set(x)
    return wide
  }
  return { matrix, size, widen }
}

/** From the first input to the first measured value, with the other inputs closed by `laws`: Gauss on the small matrix. */
function closeSampled(answers: readonly Complex[][], laws: readonly Complex[]): Complex {
  let g = answers.map((row) => [...row])
  for (let k = laws.length; k >= 1; k--) {
    // u_k = law y_k: y_i = ... + g[k][i] law y_k/(1 - g[k][k] law)
    const closing = laws[k - 1].over(
      g[k][k]
        .by(laws[k - 1])
        .times(-1)
        .plus(1),
    )
    g = g.slice(0, k).map((row) => row.slice(0, k).map((value, i) => value.add(g[k][i].by(closing).by(row[k]))))
  }
  return g[0][0]
}

function square(m: Square, wide: number, n: number): Square {
  const part = new Float64Array(n * n)
  for (let i = 0; i < n; i++) for (let k = 0; k < n; k++) part[i * n + k] = m[i * wide + k]
  return part
}

function column(m: Square, wide: number, n: number, k: number): Float64Array {
  return Float64Array.from({ length: n }, (_, i) => m[i * wide + k])
}

/** rad/s, well beyond everything that moves by itself. */
export function highest(plant: Plant): number {
  let most = 1
  for (let i = 0; i < plant.n; i++) most = Math.max(most, Math.abs(plant.a[i * plant.n + i]))
  return Math.min(1e5, Math.max(1e3, 10 * most))
}

const LIVELY = 0.15
/** Round a light resonance, in units of its damping ratio. */
const AROUND = [-4, -2, -1, -0.5, 0, 0.5, 1, 2, 4]

/** Frequencies round which a matrix of rates, or of one sample, swings with little damping. */
export const livelyOf = (matrix: Square, n: number, period: number | undefined): number[] =>
  livelyAmong(eigenvaluesOf(matrix, n), period)

export function livelyAmong({ re, im }: Eigenvalues, period: number | undefined): number[] {
  const found: number[] = []
  for (let k = 0; k < re.length; k++) {
    if (!(im[k] > 0)) continue
    const decay = period === undefined ? -re[k] : -Math.log(Math.hypot(re[k], im[k])) / period
    const w = period === undefined ? im[k] : Math.atan2(im[k], re[k]) / period
    const damping = Math.max(1e-4, Math.abs(decay) / w)
    if (damping < LIVELY) found.push(...AROUND.map((a) => w * (1 + a * damping)))
  }
  return found
}

/** Even steps in the logarithm, and what must not be stepped over. */
export function frequenciesUpTo(
  top: number,
  lively: readonly number[],
  lowest = LOWEST,
  perDecade = POINTS_PER_DECADE,
): number[] {
  const count = Math.ceil(perDecade * Math.log10(top / lowest))
  const even = Array.from({ length: count + 1 }, (_, k) => lowest * (top / lowest) ** (k / count))
  const all = [...even, ...lively.filter((w) => w > lowest && w < top)].sort((a, b) => a - b)
  return all.filter((w, k) => k === 0 || w > all[k - 1] * (1 + 1e-12))
}

/**
 * Modes of the line at a point: how each swings or dies away, who takes part, and what kind it is.
 *
 * Equations    eigenvalue s = -d +- j w: frequency w/(2 pi), damping ratio d/|s|, time constant 1/d; of lines with programs: rates.ts
 *              share of a state: |right x left eigenvector|, which no choice of units changes
 *              a dancer by itself: w^2 = k/M; on held film: w^2 = (k + sum g_j^2 EA/L_j)/M with its roller held,
 *              (k + (sum g_j)^2 EA/sum L_j)/M with a light roller that may turn
 * Neglected    dancer friction is left out, drag stands at its running sign (plant.ts)
 * Source       modal analysis, textbook; names of the kinds: own
 */
import { EigenvalueDecomposition, inverse, Matrix } from 'ml-matrix'
import { gasSpring, volumeAt } from '../line/cylinder'
import type { Line } from '../line/line'
import { closedLine, type ClosedLine } from './closed'
import { Complex } from './complex'
import type { Square } from './dense'
import type { Eigenvalues } from './eigenvalues'
import { wordsFor } from './mode-words'
import { plantOf, type Plant } from './plant'
import { heldLine, leastDampingAmong, sampledRates } from './rates'
import { standAt, type Point, type Trouble } from './setup'
import type { StateInfo, StateKind } from './states'
import type { RunScenario } from '../run/run'

export type ModeKind =
  | 'dancer on held film'
  | 'dancer by itself'
  | 'rollers on film'
  | 'loop'
  | 'drive'
  | 'film transport'
  | 'air'
  | 'measurement'
  | 'drift'

export interface Participant {
  readonly part: string
  /** index of the part in the scenario's line */
  readonly place: number
  readonly kind: StateKind
  /** of 1 */
  readonly share: number
}

export interface Mode {
  readonly kind: ModeKind
  /** rad/s */
  readonly re: number
  readonly im: number
  /** Hz; 0 where it does not swing */
  readonly frequency: number
  /** 1 and more where it does not swing; negative where it grows */
  readonly damping: number
  /** s; null where it neither grows nor dies away; negative where it grows */
  readonly timeConstant: number | null
  /** largest first, at most eight */
  readonly parts: readonly Participant[]
  readonly say: string
}

/** What a dancer would do by itself and on film that is held at both ends, Hz. */
export interface DancerFrequencies {
  readonly name: string
  readonly place: number
  /** spring alone */
  readonly own: number
  /** with the gas spring of its cylinder, as fast motion feels it; equal to `own` without one */
  readonly ownWithGas: number
  /** on held film, roller held from turning, and light and free to turn */
  readonly heldRoller: number
  readonly freeRoller: number
}

export interface Modes {
  readonly ok: true
  /** those that swing first, slowest first; then those that only die away, slowest first */
  readonly modes: readonly Mode[]
  readonly dancers: readonly DancerFrequencies[]
  readonly stable: boolean
  /** as rates.ts has it; null when nothing swings */
  readonly leastDamping: number | null
  /** 1/s: fastest decay, and rad/s: fastest swing */
  readonly fastest: { readonly decay: number; readonly swing: number }
  /** what was left out or taken so, in sentences */
  readonly notes: readonly string[]
  readonly point: { readonly speed: number; readonly unwindDiameter: number; readonly rewindDiameter: number }
}

/** The modes of a scenario's line at a point. */
export function modesOf(scenario: RunScenario, point: Point = {}): Modes | Trouble {
  const standing = standAt(scenario, point)
  if (!standing.ok) return standing
  return modesOfPlant(plantOf(standing, false))
}

export function modesOfPlant(plant: Plant): Modes | Trouble {
  const closed = closedLine(plant)
  if (!closed.ok) return closed
  const { line } = plant
  const dancers = dancerFrequencies(line, plant.y)
  const modes = solve(closed)
    .map((found) => modeFrom(found, closed, dancers))
    .sort(bySwingThenSpeed)
  const swinging = modes.filter((m) => m.frequency > 0 && m.kind !== 'drift')
  return {
    ok: true,
    modes,
    dancers,
    stable:
      modes.every((m) => m.kind === 'drift' || m.re < 0) && !modes.some((m) => m.kind === 'drift' && m.re > DRIFT),
    leastDamping: swinging.length === 0 ? null : leastDampingAmong(modes),
    fastest: {
      decay: Math.max(0, ...modes.map((m) => -m.re)),
      swing: Math.max(0, ...modes.map((m) => Math.abs(m.im))),
    },
    notes: notesOf(plant),
    point: {
      speed: line.spec.speed.start,
      unwindDiameter: 2 * line.unwindRoll.mean,
      rewindDiameter: 2 * line.rewindRoll.mean,
    },
  }
}

interface Found {
  readonly s: Complex
  readonly shares: Float64Array
}

/** 1/s, below which nothing is taken to move. */
const DRIFT = 1e-6

/** Modes of a line without programs; of one with programs those that outlast a period, and the rest from between the samples. */
function solve(closed: ClosedLine): Found[] {
  const { matrix, n, period } = closed
  const whole = decompose(matrix, n)
  if (period === undefined) {
    const { re, im } = whole.values
    return Array.from(re, (_, k) => k).flatMap((k) =>
      im[k] < 0 ? [] : [{ s: new Complex(re[k], im[k]), shares: whole.shares(k) }],
    )
  }
  const held = heldLine(closed)
  const between = decompose(held.matrix, held.states.length)
  return sampledRates(whole.values, between.values, period).map(({ re, im, from, index }) => {
    const s = new Complex(re, im)
    if (from === 'period') return { s, shares: whole.shares(index) }
    const shares = new Float64Array(n)
    between.shares(index).forEach((share, k) => (shares[held.states[k]] = share))
    return { s, shares }
  })
}

interface Decomposed {
  readonly values: Eigenvalues
  /** share of every state in eigenvalue k, im >= 0 */
  readonly shares: (k: number) => Float64Array
}

function decompose(matrix: Square, n: number): Decomposed {
  const found = new EigenvalueDecomposition(Matrix.from1DArray(n, n, matrix))
  const v = found.eigenvectorMatrix
  const left = leftVectors(v)
  const [re, im] = [Float64Array.from(found.realEigenvalues), Float64Array.from(found.imaginaryEigenvalues)]
  return { values: { re, im }, shares: (k) => sharesOf(v, left, k, im[k] > 0 && k + 1 < n) }
}

/** Rows of the inverse are left eigenvectors; where eigenvalues fall together it does not exist and the right ones stand in. */
function leftVectors(v: Matrix): Matrix {
  try {
    const rows = inverse(v)
    return rows.to1DArray().every(Number.isFinite) ? rows : v.transpose()
  } catch {
    return v.transpose()
  }
}

function sharesOf(v: Matrix, left: Matrix, k: number, pair: boolean): Float64Array {
  const n = v.rows
  const shares = new Float64Array(n)
  let sum = 0
  for (let i = 0; i < n; i++) {
    const re = v.get(i, k)
    const im = pair ? v.get(i, k + 1) : 0
    shares[i] = Math.hypot(re, im) * Math.hypot(left.get(k, i), pair ? left.get(k + 1, i) : 0)
    sum += shares[i]
  }
  return shares.map((x) => (sum > 0 ? x / sum : 0))
}

function modeFrom({ s, shares }: Found, closed: ClosedLine, dancers: readonly DancerFrequencies[]): Mode {
  const swings = Math.abs(s.im) > 1e-9 * s.size && s.im !== 0
  const parts = participants(closed.states, shares)
  const kind = kindOf(s, parts, dancers)
  const figures = {
    ...{ kind, re: s.re, im: swings ? s.im : 0, frequency: swings ? Math.abs(s.im) / (2 * Math.PI) : 0 },
    damping: s.size > 0 ? -s.re / s.size : 1,
    timeConstant: Math.abs(s.re) > DRIFT ? -1 / s.re : null,
    parts: parts.filter((p) => p.share > 0.01).slice(0, 8),
  }
  return { ...figures, say: wordsFor(figures) }
}

function participants(states: readonly StateInfo[], shares: Float64Array): Participant[] {
  const found = new Map<string, Participant>()
  states.forEach(({ part, place, kind }, k) => {
    const key = `${kind}/${part}`
    found.set(key, { part, place, kind, share: (found.get(key)?.share ?? 0) + shares[k] })
  })
  return [...found.values()].sort((a, b) => b.share - a.share)
}

function kindOf(s: Complex, parts: readonly Participant[], dancers: readonly DancerFrequencies[]): ModeKind {
  if (s.size < DRIFT) return 'drift'
  const of = (...kinds: StateKind[]) => parts.reduce((sum, p) => (kinds.includes(p.kind) ? sum + p.share : sum), 0)
  const dancer = of('dancer')
  const [film, roller] = [of('film'), of('roller')]
  const control = of('loop', 'drive')
  const leading = parts.find((p) => p.kind === 'dancer')
  const known = dancers.find((d) => d.name === leading?.part)
  const quick = known !== undefined && s.size > 0.4 * 2 * Math.PI * known.freeRoller
  if (of('cylinder') > 0.5) return 'air'
  if (of('load cell', 'diameter calculator') > 0.5) return 'measurement'
  if (of('loop') > 0.1 || (dancer > 0.15 && control > 0.15 && !quick)) return 'loop'
  if (dancer > 0.2) return quick ? 'dancer on held film' : 'dancer by itself'
  if (s.im !== 0 && roller > 0.2 && film > 0.2) return 'rollers on film'
  if (control > 0.4) return 'drive'
  return film > roller || s.im === 0 ? 'film transport' : 'rollers on film'
}

function bySwingThenSpeed(a: Mode, b: Mode): number {
  const [first, second] = [a.frequency > 0 ? 0 : 1, b.frequency > 0 ? 0 : 1]
  return first - second || Math.hypot(a.re, a.im) - Math.hypot(b.re, b.im)
}

export function dancerFrequencies(line: Line, y: readonly number[]): DancerFrequencies[] {
  const { spans } = line
  return line.carriages.map(({ name, setup, strands, cylinder, state }) => {
    const { mass, stiffness, place, lowerStop } = setup
    let [held, lengths] = [0, 0]
    strands.spans.forEach((j, k) => {
      held += strands.shares[k] ** 2 / spans.compliance[j]
      lengths += spans.compliance[j]
    })
    const gas =
      cylinder === undefined || volumeAt(cylinder.spec, y[state] - lowerStop) <= 0
        ? 0
        : gasSpring(cylinder.spec, y[cylinder.state], y[state] - lowerStop)
    const hertz = (k: number) => Math.sqrt(Math.max(0, k) / mass) / (2 * Math.PI)
    return {
      ...{ name, place, own: hertz(stiffness), ownWithGas: hertz(stiffness + gas) },
      heldRoller: hertz(stiffness + gas + held),
      freeRoller: hertz(stiffness + gas + strands.total() ** 2 / lengths),
    }
  })
}

function notesOf({ line, loops }: Plant): string[] {
  const notes: string[] = []
  const sticky = line.carriages.filter((c) => c.breakaway > 0).map((c) => c.name)
  if (sticky.length > 0) {
    notes.push(
      `Dry friction of ${sticky.join(' and ')} is left out: it damps small motion until it stops it, and no linear figure can say so.`,
    )
  }
  if (line.spec.speed.start === 0) {
    notes.push(
      'The line stands: rollers and dancers are taken to be free, as they are once something moves them; no film is carried on.',
    )
  } else if (line.rollers.coulomb.some((c) => c > 0)) {
    notes.push('Drag of the rollers stands at its running value.')
  }
  for (const loop of loops) {
    if (loop.saturated) notes.push(`The ${loop.name} stands at its limit, where it does nothing: it is left open.`)
  }
  return notes
}

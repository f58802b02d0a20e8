/**
 * Among the taper laws, the setting that keeps the roll inside its limits with the flattest pressure.
 *
 * Variables    law and its setting; where no setting does, the tension at the core as well
 * Equations    flatness = (largest - least pressure)/(mean pressure) from the core to 90 % of the build-up, least is best
 *              of settings that break a limit, the one that breaks it least
 * Neglected    everything that the roll's models neglect; settings between those tried
 * Source       search over a grid, own choice of measure
 */
import type { TaperSpec } from '../line/taper'
import { assess, type Finding } from './assess'
import type { RollInput } from './input'
import { solveRoll } from './solve'

export interface Candidate {
  readonly taper: TaperSpec
  readonly flatness: number
  readonly findings: readonly Finding[]
  /** the worst share of a limit; above 1 one is broken */
  readonly worst: number
}

export interface Advice {
  readonly present: Candidate
  readonly best: Candidate
  readonly tried: number
}

const SHELLS = 320
const STAGES = 6
const STEP = 0.05
const STEEPEST = 0.7
/** A coarse roll is a little off: what is advised keeps as much from its limits. */
const WITHIN = 0.98
const TENSIONS = [0.5, 0.6, 0.7, 0.8, 0.9, 1.1, 1.2, 1.35, 1.5]

/** Searches one setting at a time, so that a page can do something else between them. Undefined: the roll itself is refused. */
export function* searchAdvice(input: RollInput): Generator<number, Advice | undefined> {
  const present = candidate(input, input.taper)
  if (present === undefined) return undefined
  let [best, tried] = [present, 1]
  const wide = settings(input.taper, STEP)
  for (const taper of wide) {
    best = better(best, candidate(input, taper))
    yield tried++ / wide.length
  }
  if (best.worst <= WITHIN) return { present, best, tried }
  for (const factor of TENSIONS) {
    const tension = input.taper.tension * factor
    for (const taper of settings({ ...input.taper, tension }, 3 * STEP)) {
      best = better(best, candidate(input, taper))
      tried++
    }
    yield 1
  }
  return { present, best, tried }
}

/** The same at one go. */
export function advise(input: RollInput): Advice | undefined {
  const search = searchAdvice(input)
  for (;;) {
    const { done, value } = search.next()
    if (done === true) return value
  }
}

function settings(taper: TaperSpec, step: number): TaperSpec[] {
  const values = Array.from({ length: Math.round(STEEPEST / step) }, (_, k) => Math.round((k + 1) * step * 100) / 100)
  return [
    { ...taper, law: 'constant' },
    ...values.flatMap((k): TaperSpec[] => [
      { ...taper, law: 'linear', taper: k },
      { ...taper, law: 'hyperbolic', taper: k },
      { ...taper, law: 'blend', blend: 0.5, taper: k },
      { ...taper, law: 'power', exponent: k },
    ]),
  ]
}

function candidate(input: RollInput, taper: TaperSpec): Candidate | undefined {
  const outcome = solveRoll({ ...input, taper }, undefined, { shells: SHELLS, stages: STAGES })
  if (outcome.outcome !== 'finished') return undefined
  const findings = assess(outcome)
  const { radius, pressure } = outcome.later ?? outcome.wound
  const flatness = flatnessOf(radius, pressure)
  return { taper, flatness, findings, worst: Math.max(...findings.map(({ share }) => share)) }
}

function better(one: Candidate, other: Candidate | undefined): Candidate {
  if (other === undefined) return one
  if (one.worst <= WITHIN && other.worst <= WITHIN) return other.flatness < one.flatness - 1e-9 ? other : one
  return other.worst < one.worst ? other : one
}

/** (largest - least)/mean over the radius, without the outer tenth of the build-up, where every roll ends at nothing. */
function flatnessOf(radius: Float64Array, pressure: Float64Array): number {
  const last = radius.length - 1
  const until = radius[0] + 0.9 * (radius[last] - radius[0])
  let [most, least, sum] = [-Infinity, Infinity, 0]
  for (let i = 0; i < last && radius[i + 1] <= until; i++) {
    most = Math.max(most, pressure[i])
    least = Math.min(least, pressure[i])
    sum += ((pressure[i] + pressure[i + 1]) / 2) * (radius[i + 1] - radius[i])
  }
  const mean = sum / (until - radius[0])
  return mean > 0 ? (most - least) / mean : Infinity
}

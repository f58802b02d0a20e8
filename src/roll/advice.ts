/**
 * Among the taper laws, the setting that keeps the roll inside its limits with the flattest pressure.
 *
 * Variables    law and its setting; where no setting does, the tension at the core as well
 * Equations    flatness = (largest - least pressure)/(mean pressure) from the core to 90 % of the build-up, least is best
 *              of settings that break a limit, the one that breaks it least
 *              tried in coarse rolls; what is said of the present and of the best one is said of rolls in full detail: the flattest that
 *              seem to keep their limits are computed in full until one does
 * Neglected    everything that the roll's models neglect; settings between those tried
 * Source       search over a grid, own choice of measure
 */
import type { TaperSpec } from '../line/taper'
import { assess, type Finding } from './assess'
import { windingOf, type RollInput } from './input'
import { shellsFor } from './shells'
import { solveRoll, type RollOptions } from './solve'

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
  /** by which rule the best was chosen: the flattest of those that keep every limit, or, where none does, the one that breaks them least */
  readonly rule: 'flattest' | 'nearest'
}

/** Shells of a coarse roll, of those in full detail. */
const COARSE = 1 / 3
const STAGES = 6
const STEP = 0.05
const STEEPEST = 0.7
/** A coarse roll is a little off: one that breaks its limits by no more is looked at in full. */
const NEARLY = 1.02
const TENSIONS = [0.5, 0.6, 0.7, 0.8, 0.9, 1.1, 1.2, 1.35, 1.5]

/** Searches one setting at a time, so that a page can do something else between them. Undefined: the roll itself is refused. */
export function* searchAdvice(input: RollInput): Generator<number, Advice | undefined> {
  const present = candidate(input, input.taper)
  if (present === undefined) return undefined
  const coarse: RollOptions = { shells: shellsFor(windingOf(input), COARSE), stages: STAGES }
  const found: Candidate[] = []
  const wide = settings(input.taper, STEP)
  for (const taper of wide) {
    found.push(...listed(candidate(input, taper, coarse)))
    yield (0.9 * found.length) / wide.length
  }
  let best = yield* flattest(input, found, present)
  if (best === undefined) {
    const more: Candidate[] = []
    for (const factor of TENSIONS) {
      const tension = input.taper.tension * factor
      for (const taper of settings({ ...input.taper, tension }, 3 * STEP)) {
        more.push(...listed(candidate(input, taper, coarse)))
        yield 0.95
      }
    }
    best = yield* flattest(input, more, present)
    found.push(...more)
  }
  const tried = found.length + 1
  if (best !== undefined) return { present, best, tried, rule: 'flattest' }
  return { present, best: nearest(input, found, present), tried, rule: 'nearest' }
}

const listed = (one: Candidate | undefined): Candidate[] => (one === undefined ? [] : [one])

/** The flattest that keeps every limit in full detail too, the present one among them. */
function* flattest(
  input: RollInput,
  found: readonly Candidate[],
  present: Candidate,
): Generator<number, Candidate | undefined> {
  const kept = present.worst <= 1 ? present : undefined
  const nearly = found.filter(({ worst }) => worst <= NEARLY).sort((a, b) => a.flatness - b.flatness)
  for (const { taper, flatness } of nearly) {
    if (kept !== undefined && flatness > NEARLY * kept.flatness) break
    const full = candidate(input, taper)
    if (full !== undefined && full.worst <= 1) return kept !== undefined && kept.flatness <= full.flatness ? kept : full
    yield 0.95
  }
  return kept
}

/** Where none keeps the limits: the one that breaks them least, in full detail. */
function nearest(input: RollInput, found: readonly Candidate[], present: Candidate): Candidate {
  const [least] = [...found].sort((a, b) => a.worst - b.worst)
  const full = least === undefined ? undefined : candidate(input, least.taper)
  return full !== undefined && full.worst < present.worst ? full : present
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

/** A setting as it comes out; in full detail unless told otherwise. */
function candidate(input: RollInput, taper: TaperSpec, options?: RollOptions): Candidate | undefined {
  const outcome = solveRoll({ ...input, taper }, undefined, options)
  if (outcome.outcome !== 'finished') return undefined
  const findings = assess(outcome)
  const { radius, pressure } = outcome.later ?? outcome.wound
  const flatness = flatnessOf(radius, pressure)
  return { taper, flatness, findings, worst: Math.max(...findings.map(({ share }) => share)) }
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

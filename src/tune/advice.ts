/**
 * Advice for one dancer: spring, damping and gains that hold tension best within the aims, found on the linear line, then tried on the
 * scenario's own stage by the simulator.
 *
 * Parameters   aims: band of tension (share), phase margin (rad), share of travel; effort of the search
 * Equations    searched for: least deviation of tension in the dancer's strands, with what the aims lack counted in; the margin is that of
 *              the worst of core, present and full roll; damping of what swings may not fall below half of what it was, or 3 %
 * Neglected    as in predict.ts; the best few are tried in time, and what the simulator says counts
 * Source       own derivation; search.ts
 */
import type { Run, RunScenario } from '../run/run'
import { begin } from '../run/run'
import {
  changedTo,
  presentShares,
  sidesOf,
  subjectOf,
  valuesAt,
  type Change,
  type Side,
  type Subject,
} from './advice-box'
import { whyEach, whyNot } from './advice-words'
import { rollRange } from './diameters'
import { linearMeasures, measuresOf, type LinearMeasures, type Measures } from './measures'
import { search, type Tried } from './search'
import type { Point, Trouble } from './setup'

export interface Aims {
  /** greatest deviation of tension in the dancer's strands, as a share of it */
  readonly band: number
  /** rad */
  readonly phaseMargin: number
  /** of the distance between the stops */
  readonly travelShare: number
}

/** Evaluations of the linear line, and settings tried in time. */
export interface Effort {
  readonly scatter: number
  readonly walk: number
  readonly tries: number
}

export const USUAL_EFFORT: Effort = { scatter: 40, walk: 60, tries: 3 }

/** What a search is doing, for people. */
export interface AdviceStep {
  readonly doing: 'looks at what is' | 'searches' | 'tries in time'
  /** share of the whole, 0..1 */
  readonly done: number
  /** least deviation so far on the linear line, share; undefined before one is known */
  readonly best?: number
}

export interface Advice {
  readonly ok: true
  readonly dancer: string
  readonly aims: Aims
  readonly before: Measures
  readonly after: Measures
  /** as the linear line sees both; what it could not follow (an unstable line) is Infinity */
  readonly linearBefore: LinearMeasures
  readonly linearAfter: LinearMeasures
  /** deviation before over deviation after, on the simulator */
  readonly gain: number
  readonly changes: readonly (Change & { readonly why: string })[]
  /** whether the simulator finds every aim kept, and the margin holds */
  readonly met: boolean
  /** what stands in the way where aims are not met, or where little was gained, in sentences */
  readonly limits: readonly string[]
  /** the scenario as advised, SI */
  readonly scenario: RunScenario
  readonly evaluations: number
}

const LEAST_DAMPING = 0.03
/** A run that gains less than this is not worth changing settings for. */
const WORTH = 0.02

/** Advice as a row of steps, for a worker to take in slices; dropping the generator cancels. */
export function* advise(
  scenario: RunScenario,
  dancer: string,
  aims: Aims,
  effort: Effort = USUAL_EFFORT,
): Generator<AdviceStep, Advice | Trouble, undefined> {
  const subject = subjectOf(scenario, dancer)
  if (subject === undefined) return noDancer(scenario, dancer)
  const desk = new Desk(scenario, subject, aims)
  yield { doing: 'looks at what is', done: 0 }
  const linearBefore = desk.measure(scenario)
  if (!linearBefore.ok) return linearBefore
  desk.holdDamping(linearBefore.measures.leastDamping)
  const before = yield* timed(scenario, dancer, 'looks at what is', 0, 0.1)
  if (!before.ok) return before
  const total = 1 + effort.scatter + effort.walk
  let ranked: Tried[] = []
  const steps = search(desk.sides.length, (at) => desk.cost(at), { ...effort, first: desk.present })
  for (let next = steps.next(), k = 0; ; next = steps.next(), k++) {
    if (next.done === true) {
      ranked = next.value
      break
    }
    yield { doing: 'searches', done: 0.1 + 0.6 * Math.min(1, k / total), best: next.value.value }
  }
  const found = { before: before.measures, linearBefore: linearBefore.measures }
  const best = yield* bestInTime(desk, ranked, found, effort.tries)
  return conclude(desk, { ...found, best, evaluations: ranked.length })
}

interface Chosen {
  readonly scenario: RunScenario
  readonly changes: readonly Change[]
  readonly measures: Measures
}

/** Of the best few of the linear line, and of what is, that which the simulator finds best. */
function* bestInTime(
  desk: Desk,
  ranked: readonly Tried[],
  { before, linearBefore }: { before: Measures; linearBefore: LinearMeasures },
  tries: number,
): Generator<AdviceStep, Chosen, undefined> {
  let best: Chosen = { scenario: desk.scenario, changes: [], measures: before }
  let least = desk.timedCost(before, linearBefore)
  const few = distinct(ranked, tries)
  for (const [k, { at }] of few.entries()) {
    const { scenario, changes } = desk.at(at)
    const share = 0.3 / few.length
    const found = yield* timed(scenario, desk.subject.dancer.name, 'tries in time', 0.7 + k * share, share)
    const linear = desk.measure(scenario)
    if (!found.ok || !linear.ok) continue
    const cost = desk.timedCost(found.measures, linear.measures)
    if (cost >= least * (1 - WORTH)) continue
    best = { scenario, changes, measures: found.measures }
    least = cost
  }
  return best
}

/** The best few that are not all but the same. */
function distinct(ranked: readonly Tried[], count: number): Tried[] {
  const few: Tried[] = []
  for (const one of ranked) {
    if (few.length === count || !Number.isFinite(one.value)) break
    if (few.every((other) => one.at.some((x, i) => Math.abs(x - other.at[i]) > 0.1))) few.push(one)
  }
  return few
}

type Timed = { readonly ok: true; readonly measures: Measures } | Trouble

function* timed(
  scenario: RunScenario,
  dancer: string,
  doing: AdviceStep['doing'],
  from: number,
  share: number,
): Generator<AdviceStep, Timed, undefined> {
  const run = begin(scenario)
  if ('outcome' in run) return { ok: false, say: run.say, field: run.state }
  for (let tick = 0; ; tick++) {
    const outcome = run.step()
    if (outcome !== undefined) {
      if (outcome.outcome !== 'finished')
        return { ok: false, say: 'say' in outcome ? outcome.say : 'The run did not end.' }
      return { ok: true, measures: measuresOf(run.line, outcome.summary, dancer) }
    }
    if (tick % 20 !== 0) continue
    run.takeBlock()
    yield { doing, done: from + share * shareDone(run) }
  }
}

const shareDone = (run: Run) => run.time / run.plan.duration

/** Everything that one search holds together. */
class Desk {
  readonly sides: readonly Side[]
  readonly present: readonly number[]
  private readonly points: readonly Point[]
  private damping = LEAST_DAMPING

  constructor(
    readonly scenario: RunScenario,
    readonly subject: Subject,
    readonly aims: Aims,
  ) {
    this.sides = sidesOf(subject)
    this.present = presentShares(this.sides, subject)
    this.points = diametersOf(scenario, subject)
  }

  /** What swings may become less damped by half, not more. */
  holdDamping(present: number): void {
    this.damping = Math.max(LEAST_DAMPING, 0.5 * present)
  }

  /** The linear figures of a setting. */
  measure(scenario: RunScenario): { ok: true; measures: LinearMeasures } | Trouble {
    const measures = linearMeasures(scenario, this.subject.dancer.name, this.points, -Infinity)
    if ('ok' in measures) return measures
    return { ok: true, measures }
  }

  at(shares: readonly number[]) {
    return changedTo(this.scenario, this.subject, this.sides, valuesAt(this.sides, shares))
  }

  /** Deviation as a share; from 10 on the line cannot be used, and less is nearer to one that can. */
  cost(shares: readonly number[]): number {
    const found = linearMeasures(
      this.at(shares).scenario,
      this.subject.dancer.name,
      this.points,
      0.3 * this.aims.phaseMargin,
    )
    if ('ok' in found) return 1000
    const { leastDamping } = found
    const margin = this.marginLack(found)
    const damping = Math.max(0, 1 - leastDamping / this.damping)
    if (!Number.isFinite(found.deviation)) return 10 + margin + damping
    return found.deviation * (1 + 5 * margin + 5 * damping) + 0.2 * (margin + damping) + this.travelCost(found)
  }

  /** What the simulator says of a setting, and the linear line of its margin. */
  timedCost(measures: Measures, linear: LinearMeasures): number {
    return measures.deviation * (1 + this.marginLack(linear)) + this.travelCost(measures) + measures.stopSeconds
  }

  /** Share of the wanted margin that is lacking. */
  private marginLack({ phaseMargin }: LinearMeasures): number {
    return phaseMargin === null ? 0 : Math.max(0, 1 - phaseMargin / this.aims.phaseMargin)
  }

  private travelCost({ travelShare }: Measures): number {
    return Math.max(0, travelShare - this.aims.travelShare)
  }
}

/** Core, present and full, of the roll that the trim turns; of the unwind where it turns none. */
function diametersOf(scenario: RunScenario, { trim }: Subject): Point[] {
  const rewind = scenario.line.at(-1)
  const which = rewind?.part === 'rewind' && trim?.drives === rewind.name ? 'rewind' : 'unwind'
  const { core, full } = rollRange(scenario, which)
  const key = which === 'rewind' ? 'rewindDiameter' : 'unwindDiameter'
  return [{}, { [key]: core }, { [key]: full }]
}

function noDancer(scenario: RunScenario, dancer: string): Trouble {
  const names = scenario.line.flatMap((p) => (p.part === 'dancer' ? [p.name] : []))
  const say =
    names.length === 0
      ? 'The line has no dancer, so there is none to tune. Add one between two drives.'
      : `There is no dancer named ${dancer}; there is ${names.join(' and ')}.`
  return { ok: false, field: 'dancer', say }
}

/** Whether a number is another one than before, by more than rounding. */
const isChange = ({ old, new: now }: Change) => Math.abs(now - old) > 1e-3 * Math.max(Math.abs(old), Math.abs(now))

interface Findings {
  readonly before: Measures
  readonly linearBefore: LinearMeasures
  readonly best: Chosen
  readonly evaluations: number
}

function conclude(desk: Desk, { before, linearBefore, best, evaluations }: Findings): Advice | Trouble {
  const { aims, subject } = desk
  const linear = desk.measure(best.scenario)
  if (!linear.ok) return linear
  const after = best.measures
  const kept =
    after.deviation <= aims.band &&
    after.travelShare <= aims.travelShare &&
    after.stopSeconds === 0 &&
    (linear.measures.phaseMargin ?? Math.PI) >= aims.phaseMargin
  const gain = before.deviation / Math.max(after.deviation, 1e-12)
  const found = {
    ...{ scenario: best.scenario, dancer: subject.dancer, aims, before, after, linearBefore },
    linear: linear.measures,
  }
  return {
    ...{ ok: true, dancer: subject.dancer.name, aims, before, after, linearBefore, linearAfter: linear.measures, gain },
    changes: whyEach(best.changes.filter(isChange), found),
    met: kept,
    limits: kept && gain >= 2 ? [] : whyNot(found),
    ...{ scenario: best.scenario, evaluations },
  }
}

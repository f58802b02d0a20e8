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
import { edgesOf, subjectOf, type Change } from './advice-box'
import { Desk, MATTERS, thinned, type Setting } from './advice-desk'
import { whyEach, whyNot } from './advice-words'
import { measuresOf, type LinearMeasures, type Measures } from './measures'
import { search, type Tried } from './search'
import type { Trouble } from './setup'

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
  const steps = search(desk.sides.length, (at) => desk.cost(desk.at(at)), { ...effort, first: desk.present })
  for (let next = steps.next(), k = 0; ; next = steps.next(), k++) {
    if (next.done === true) {
      ranked = next.value
      break
    }
    yield { doing: 'searches', done: 0.1 + 0.6 * Math.min(1, k / total), best: next.value.value }
  }
  const found = { before: before.measures, linearBefore: linearBefore.measures }
  const chosen = yield* bestInTime(desk, ranked, found, effort.tries)
  const best = yield* withoutLeftovers(desk, chosen)
  return conclude(desk, { ...found, best, evaluations: ranked.length })
}

interface Chosen extends Setting {
  readonly measures: Measures
  /** on the simulator */
  readonly cost: number
}

/** Of the best few of the linear line, and of what is, that which the simulator finds best. */
function* bestInTime(
  desk: Desk,
  ranked: readonly Tried[],
  { before, linearBefore }: { before: Measures; linearBefore: LinearMeasures },
  tries: number,
): Generator<AdviceStep, Chosen, undefined> {
  const cost = desk.timedCost(before, linearBefore)
  const values = desk.sides.map(({ old }) => old)
  let best: Chosen = { values, scenario: desk.scenario, changes: [], measures: before, cost }
  const few = distinct(ranked, tries)
  for (const [k, { at }] of few.entries()) {
    const share = 0.25 / few.length
    const found = yield* triedInTime(desk, desk.at(at), 0.7 + k * share, share)
    if (found !== undefined && found.cost < best.cost * (1 - WORTH)) best = found
  }
  return best
}

/** Without those changes that do not matter, neither on the linear line nor in time. */
function* withoutLeftovers(desk: Desk, best: Chosen): Generator<AdviceStep, Chosen, undefined> {
  const fewer = thinned(desk, best.values, (values) => desk.cost(desk.with(values)))
  for (const [k, values] of fewer.entries()) {
    const share = 0.05 / fewer.length
    const found = yield* triedInTime(desk, desk.with(values), 0.95 + k * share, share)
    if (found !== undefined && found.cost <= best.cost * (1 + MATTERS)) return found
  }
  return best
}

function* triedInTime(
  desk: Desk,
  setting: Setting,
  from: number,
  share: number,
): Generator<AdviceStep, Chosen | undefined, undefined> {
  const found = yield* timed(setting.scenario, desk.subject.dancer.name, 'tries in time', from, share)
  const linear = desk.measure(setting.scenario)
  if (!found.ok || !linear.ok) return undefined
  return { ...setting, measures: found.measures, cost: desk.timedCost(found.measures, linear.measures) }
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
    edges: edgesOf(desk.sides, best.values),
  }
  return {
    ...{ ok: true, dancer: subject.dancer.name, aims, before, after, linearBefore, linearAfter: linear.measures, gain },
    changes: whyEach(best.changes.filter(isChange), found),
    met: kept,
    limits: kept && gain >= 2 ? [] : whyNot(found),
    ...{ scenario: best.scenario, evaluations },
  }
}

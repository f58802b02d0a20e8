/**
 * What a finished run says, in sentences, worst first: what happened, where, when, and what would change it.
 *
 * Every sentence knows what it rests on; the weakest of these is named for the whole.
 */
import { formatQuantity, kinds, type Kind } from '../units'
import type { RunPlan } from '../run/record'
import type { DancerSummary, DriveSummary, RollerSummary, SpanSummary, Summary } from '../run/summary'

export type Severity = 'bad' | 'warn' | 'ok'
export type UnitSystem = 'metric' | 'inch'

export interface Sentence {
  readonly severity: Severity
  readonly text: string
}

export interface Verdict {
  readonly sentences: readonly Sentence[]
  /** the weakest kind among the inputs that the sentences rest on */
  readonly weakest: string
}

interface Ranked extends Sentence {
  /** greater is worse, for the order within a severity */
  readonly weight: number
  readonly rests: 'stated' | 'illustrative limits' | 'illustrative friction'
}

/** Grip left below which a roller is worth a word. */
const THIN_GRIP = 0.2
const ORDER: Record<Severity, number> = { bad: 0, warn: 1, ok: 2 }

/** The verdict on a finished run, in the units of the reader. */
export function verdict(summary: Summary, plan: RunPlan, system: UnitSystem): Verdict {
  const say: Say = (value, kind) => formatQuantity(value, kinds[kind][system], 3).replace(/^-/, '−')
  const first: First = (what, part) => summary.happenings.find((h) => h.what === what && h.part === part)?.at
  const found: Ranked[] = [
    ...ending(summary, say),
    ...summary.spans.flatMap((s, j) => ofSpan(s, plan.spans[j], say, first)),
    ...summary.dancers.flatMap((d, k) => ofDancer(d, plan.dancers[k], say, first)),
    ...summary.rollers.flatMap((r) => ofRoller(r, say)),
    ...summary.drives.flatMap((d) => ofDrive(d, say)),
    ...plan.feeds.flatMap((f) => ofFeed(f, say)),
  ]
  found.sort((a, b) => ORDER[a.severity] - ORDER[b.severity] || b.weight - a.weight)
  if (!found.some((s) => s.severity !== 'ok')) found.unshift(allWell(summary, say))
  return { sentences: found.map(({ severity, text }) => ({ severity, text })), weakest: weakestOf(found) }
}

type Say = (value: number, kind: Kind) => string
/** When something first happened to a part, s; undefined where it did not. */
type First = (what: Summary['happenings'][number]['what'], part: string) => number | undefined
const percent = (share: number) => `${(share * 100).toPrecision(share >= 1 ? 3 : 2)} %`

function ending(summary: Summary, say: Say): Ranked[] {
  return summary.happenings
    .filter((h) => h.what === 'runs out')
    .map((h) => ({
      severity: 'bad',
      weight: 100,
      rests: 'stated',
      text: `${h.say} That ends the run at ${say(h.at, 'time')}: stage the splice earlier, or start with a larger roll.`,
    }))
}

function ofSpan(s: SpanSummary, limits: RunPlan['spans'][number], say: Say, first: First): Ranked[] {
  return [...strained(s, limits, say), ...slack(s, limits, say, first)]
}

/** Past the elastic limit, or past the share of it that is allowed. */
function strained(s: SpanSummary, limits: RunPlan['spans'][number], say: Say): Ranked[] {
  const allowed = limits.most / limits.elasticTension
  const when = say(s.limitAt, 'time')
  const peak = `the tension there peaks at ${say(s.tension.max, 'force')}, at ${say(s.tension.atMax, 'time')}`
  if (s.limitShare > 1) {
    const text = `The film ${s.name} is stretched past its elastic limit: ${percent(s.limitShare)} of it at ${when} (${peak}). It will not come back; lower the tension or slow what happens then.`
    return [{ severity: 'bad', weight: 10 * s.limitShare, rests: 'stated', text }]
  }
  if (s.limitShare <= allowed) return []
  const text = `The film ${s.name} reaches ${percent(s.limitShare)} of its elastic limit at ${when} (${peak}); ${percent(allowed)} is allowed. Lower the tension there, or the draw that adds to it.`
  return [{ severity: 'bad', weight: s.limitShare / allowed, rests: 'illustrative limits', text }]
}

/** Slack, or below the least tension. */
function slack(s: SpanSummary, limits: RunPlan['spans'][number], say: Say, first: First): Ranked[] {
  if (s.slackSeconds > 0) {
    const began = say(first('slack', s.name) ?? s.tension.atMin, 'time')
    const text = `The film ${s.name} hangs slack for ${say(s.slackSeconds, 'time')}, first at ${began}. Raise the tension, or let the drives change speed more gently then.`
    return [{ severity: 'bad', weight: 5, rests: 'stated', text }]
  }
  if (s.tension.min >= limits.least) return []
  const text = `The tension ${s.name} falls to ${say(s.tension.min, 'force')} at ${say(s.tension.atMin, 'time')}; ${say(limits.least, 'force')} is wanted, below which film wanders. Raise the tension there, or ease what happens then.`
  const weight = limits.least / Math.max(s.tension.min, 1e-3)
  return [{ severity: 'warn', weight, rests: 'illustrative limits', text }]
}

function ofDancer(d: DancerSummary, limits: RunPlan['dancers'][number], say: Say, first: First): Ranked[] {
  const travel = limits.upperStop - limits.lowerStop
  const range = `${say(d.min, 'travel')} to ${say(d.max, 'travel')} of ${say(limits.lowerStop, 'travel')} to ${say(limits.upperStop, 'travel')}`
  if (d.stopSeconds > 0) {
    const began = say(first('stop touched', d.name) ?? 0, 'time')
    const text = `${d.name} lies on a stop for ${say(d.stopSeconds, 'time')}, first at ${began}: its travel of ${say(travel, 'travel')} is spent and it holds no tension. Give it more travel or strands, shorten what it must store, or move its set point.`
    return [{ severity: 'bad', weight: 8, rests: 'stated', text }]
  }
  const text = `${d.name} uses ${percent(d.travelUsed)} of its travel (${range}).`
  const [below, above] = [d.min - limits.lowerStop, limits.upperStop - d.max]
  const left = Math.min(below, above)
  if (left >= 0.1 * travel) return [{ severity: 'ok', weight: d.travelUsed, rests: 'stated', text }]
  const [stop, when] = below < above ? ['lower', d.atMin] : ['upper', d.atMax]
  const what = `At ${say(when, 'time')} only ${say(left, 'travel')} is left to its ${stop} stop: move its set point away from it, or shorten what it must store or give.`
  return [{ severity: 'warn', weight: d.travelUsed, rests: 'stated', text: `${text} ${what}` }]
}

function ofRoller(r: RollerSummary, say: Say): Ranked[] {
  if (r.tractionMargin === null || r.tractionMargin >= THIN_GRIP) return []
  const when = say(r.at, 'time')
  if (r.tractionMargin < 0) {
    const text = `The film would slip on ${r.name} at ${when}: the tensions on its two sides differ by more than friction and wrap can hold. Give it more wrap, less drag or a gentler ramp.`
    return [{ severity: 'bad', weight: 3 - r.tractionMargin, rests: 'illustrative friction', text }]
  }
  const text = `${r.name} has ${percent(r.tractionMargin)} of its grip left at ${when}: a little less friction and the film slips there. More wrap, less drag or a gentler ramp would help.`
  return [{ severity: 'warn', weight: 1 - r.tractionMargin, rests: 'illustrative friction', text }]
}

function ofDrive(d: DriveSummary, say: Say): Ranked[] {
  if (d.limitShare === null || d.limitShare < 0.999) return []
  const text = `The drive of ${d.name} runs into its torque limit (${say(d.peakTorque, 'torque')}) at ${say(d.peakAt, 'time')}: it cannot follow. Slow the ramp, or fit more torque.`
  return [{ severity: 'warn', weight: 2, rests: 'stated', text }]
}

/** Travel that the cycle of an index feed takes of the dancers beside it, before any drift or mistake of phase. */
function ofFeed(feed: RunPlan['feeds'][number], say: Say): Ranked[] {
  const swing = `${feed.name} swings ${say(feed.swing, 'travel')} of film each cycle`
  return feed.dancers.map(({ name, needs, has }) => {
    const text = `${swing}; ${name} needs ${say(needs, 'travel')} of travel for it and has ${say(has, 'travel')}.`
    if (needs <= has) return { severity: 'ok', weight: needs / has, rests: 'stated', text }
    const what = 'Give it more travel or strands, a shorter pitch, or a longer move.'
    return { severity: 'bad', weight: 7, rests: 'stated', text: `${text} ${what}` }
  })
}

function allWell(summary: Summary, say: Say): Ranked {
  const worst = summary.spans.reduce((a, b) => (b.limitShare > a.limitShare ? b : a))
  const text = `The film stays inside its limits. It is strained most ${worst.name}, at ${say(worst.limitAt, 'time')}: ${percent(worst.limitShare)} of its elastic limit.`
  return { severity: 'ok', weight: Infinity, rests: 'illustrative limits', text }
}

/** The weakest first: what nobody measured, then what was chosen, then what was stated. */
function weakestOf(found: readonly Ranked[]): string {
  const rests = new Set(found.map((s) => s.rests))
  if (rests.has('illustrative friction')) {
    return 'Rests on an illustrative friction between film and rollers, the weakest of its inputs: measure it before you rely on this.'
  }
  if (rests.has('illustrative limits')) {
    return 'Rests on illustrative limits (share of the elastic limit, least tension), the weakest of its inputs: set those of your film and line.'
  }
  return 'Rests on the figures stated in the scenario: it is as good as they are.'
}

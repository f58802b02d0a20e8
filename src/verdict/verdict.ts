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
  const say = (value: number, kind: Kind) => formatQuantity(value, kinds[kind][system], 3)
  const found: Ranked[] = [
    ...ending(summary, say),
    ...summary.spans.flatMap((s, j) => ofSpan(s, plan.spans[j], say)),
    ...summary.dancers.flatMap((d, k) => ofDancer(d, plan.dancers[k], say)),
    ...summary.rollers.flatMap((r) => ofRoller(r, say)),
    ...summary.drives.flatMap((d) => ofDrive(d, say)),
    ...plan.feeds.flatMap((f) => ofFeed(f, say)),
  ]
  found.sort((a, b) => ORDER[a.severity] - ORDER[b.severity] || b.weight - a.weight)
  if (!found.some((s) => s.severity !== 'ok')) found.unshift(allWell(summary))
  return { sentences: found.map(({ severity, text }) => ({ severity, text })), weakest: weakestOf(found) }
}

type Say = (value: number, kind: Kind) => string
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

function ofSpan(s: SpanSummary, limits: RunPlan['spans'][number], say: Say): Ranked[] {
  const found: Ranked[] = []
  const allowed = limits.most / limits.elasticTension
  const peak = `${say(s.tension.max, 'force')} at ${say(s.tension.atMax, 'time')}`
  if (s.limitShare > 1) {
    const text = `The film ${s.name} is stretched past its elastic limit: ${percent(s.limitShare)} of it, ${peak}. It will not come back; lower the tension or slow what happens there.`
    found.push({ severity: 'bad', weight: 10 * s.limitShare, rests: 'stated', text })
  } else if (s.limitShare > allowed) {
    const text = `The film ${s.name} reaches ${percent(s.limitShare)} of its elastic limit (${peak}); ${percent(allowed)} is allowed. Lower the tension there, or the draw that adds to it.`
    found.push({ severity: 'bad', weight: s.limitShare / allowed, rests: 'illustrative limits', text })
  }
  if (s.slackSeconds > 0) {
    const text = `The film ${s.name} hangs slack for ${say(s.slackSeconds, 'time')}, first at ${say(s.tension.atMin, 'time')}. Raise the tension, or let the drives change speed more gently.`
    found.push({ severity: 'bad', weight: 5, rests: 'stated', text })
  } else if (s.tension.min < limits.least) {
    const text = `The tension ${s.name} falls to ${say(s.tension.min, 'force')} at ${say(s.tension.atMin, 'time')}; ${say(limits.least, 'force')} is wanted, below which film wanders.`
    found.push({
      severity: 'warn',
      weight: limits.least / Math.max(s.tension.min, 1e-3),
      rests: 'illustrative limits',
      text,
    })
  }
  return found
}

function ofDancer(d: DancerSummary, limits: RunPlan['dancers'][number], say: Say): Ranked[] {
  const travel = limits.upperStop - limits.lowerStop
  const range = `${say(d.min, 'travel')} to ${say(d.max, 'travel')} of ${say(limits.lowerStop, 'travel')} to ${say(limits.upperStop, 'travel')}`
  if (d.stopSeconds > 0) {
    const text = `${d.name} lies on a stop for ${say(d.stopSeconds, 'time')}: its travel of ${say(travel, 'travel')} is spent and it holds no tension. Give it more travel or strands, shorten what it must store, or move its set point.`
    return [{ severity: 'bad', weight: 8, rests: 'stated', text }]
  }
  const text = `${d.name} uses ${percent(d.travelUsed)} of its travel (${range}).`
  const near = Math.min(d.min - limits.lowerStop, limits.upperStop - d.max) < 0.1 * travel
  return [
    {
      severity: near ? 'warn' : 'ok',
      weight: d.travelUsed,
      rests: 'stated',
      text: near ? `${text} Little is left to a stop.` : text,
    },
  ]
}

function ofRoller(r: RollerSummary, say: Say): Ranked[] {
  if (r.tractionMargin === null || r.tractionMargin >= THIN_GRIP) return []
  const when = say(r.at, 'time')
  if (r.tractionMargin < 0) {
    const text = `The film would slip on ${r.name} at ${when}: the tensions on its two sides differ by more than friction and wrap can hold. Give it more wrap, less drag or a gentler ramp.`
    return [{ severity: 'bad', weight: 3 - r.tractionMargin, rests: 'illustrative friction', text }]
  }
  const text = `${r.name} has ${percent(r.tractionMargin)} of its grip left at ${when}.`
  return [{ severity: 'warn', weight: 1 - r.tractionMargin, rests: 'illustrative friction', text }]
}

function ofDrive(d: DriveSummary, say: Say): Ranked[] {
  if (d.limitShare === null || d.limitShare < 0.999) return []
  const text = `The drive of ${d.name} runs into its torque limit (${say(d.peakTorque, 'torque')}): it cannot follow. Slow the ramp, or fit more torque.`
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

function allWell(summary: Summary): Ranked {
  const worst = summary.spans.reduce((a, b) => (b.limitShare > a.limitShare ? b : a))
  const text = `The film stays inside its limits. It is strained most ${worst.name}: ${percent(worst.limitShare)} of its elastic limit.`
  return { severity: 'ok', weight: Infinity, rests: 'illustrative limits', text }
}

function weakestOf(found: readonly Ranked[]): string {
  const rests = new Set(found.map((s) => s.rests))
  if (rests.has('illustrative friction'))
    return 'Rests on illustrative friction and drag: measure them before you rely on it.'
  if (rests.has('illustrative limits')) return 'Rests on limits that you set: starting values are illustrative.'
  return 'Rests on the figures stated in the scenario.'
}

import { expect, test } from 'vitest'
import { breaksLimit } from '../../src/headless/limits'
import type { RunPlan } from '../../src/run/record'
import type { DancerSummary, SpanSummary, Summary } from '../../src/run/summary'

const plan: RunPlan = {
  title: 'a line',
  duration: 1,
  tick: 0.01,
  channels: [],
  spans: [{ name: 'a', elasticTension: 500, most: 200, least: 20 }],
  dancers: [{ name: 'd', lowerStop: -0.1, upperStop: 0.1, setPoint: 0 }],
  pace: { fastestMode: 0, fastestDecay: 0 },
  events: [],
  feeds: [],
}

const span: SpanSummary = {
  name: 'a',
  tension: { start: 60, end: 60, min: 20, max: 200, atMin: 0, atMax: 0 },
  limitShare: 0.4,
  limitAt: 0,
  slackSeconds: 0,
}

const dancer: DancerSummary = {
  name: 'd',
  start: 0,
  end: 0,
  min: -0.1,
  max: 0.1,
  atMin: 1,
  atMax: 2,
  travelUsed: 1,
  stopSeconds: 0,
  ripple: 0,
}

function summaryWith(changes: {
  span?: Partial<SpanSummary>
  dancer?: Partial<DancerSummary>
  runsOut?: boolean
}): Summary {
  return {
    title: 'a line',
    spans: [{ ...span, ...changes.span }],
    dancers: [{ ...dancer, ...changes.dancer }],
    rollers: [],
    drives: [],
    film: { unwound: 0, wound: 0, held: 0, scrap: 0, imbalance: 0 },
    happenings: changes.runsOut ? [{ at: 1, part: 'unwind', what: 'runs out', say: 'The roll is empty.' }] : [],
    solver: { steps: 1, evaluations: 1, events: 0 },
  }
}

test('exactly at every limit is still inside', () => {
  expect(breaksLimit(summaryWith({}), plan)).toBe(false)
})

const broken: readonly [string, Parameters<typeof summaryWith>[0]][] = [
  ['a share of the elastic limit above the allowed one', { span: { limitShare: 0.4001 } }],
  ['a tension below the least', { span: { tension: { ...span.tension, min: 19.99 } } }],
  ['a slack span', { span: { slackSeconds: 0.001 } }],
  ['a dancer on its stop', { dancer: { stopSeconds: 0.001 } }],
  ['a roll that ran out', { runsOut: true }],
]

test.each(broken)('%s breaks a limit', (_, changes) => {
  expect(breaksLimit(summaryWith(changes), plan)).toBe(true)
})

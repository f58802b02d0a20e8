/** What the verdict says of figures that are set by hand, and that it says it worst first. */
import { describe, expect, test } from 'vitest'
import type { RunPlan } from '../../src/run/record'
import type { Summary } from '../../src/run/summary'
import { verdict } from '../../src/verdict/verdict'

const span = { name: 'a → b', elasticTension: 100, most: 40, least: 20 }
const plan: RunPlan = {
  title: 'Tag line',
  duration: 10,
  tick: 0.01,
  channels: [],
  spans: [span],
  dancers: [{ name: 'infeed dancer', lowerStop: -0.1, upperStop: 0.1, setPoint: 0 }],
  pace: { fastestMode: 0, fastestDecay: 0 },
  events: [],
  feeds: [],
}

const calm: Summary = {
  title: 'Tag line',
  spans: [
    {
      name: 'a → b',
      tension: { start: 30, end: 30, min: 28, max: 32, atMin: 2, atMax: 3 },
      limitShare: 0.32,
      limitAt: 3,
      slackSeconds: 0,
    },
  ],
  dancers: [
    { name: 'infeed dancer', start: 0, end: 0, min: -0.02, max: 0.03, travelUsed: 0.25, stopSeconds: 0, ripple: 0 },
  ],
  rollers: [{ name: 'idler 1', tractionMargin: 0.8, at: 3 }],
  drives: [{ name: 'nip', peakTorque: 3, limitShare: 0.3 }],
  film: { unwound: 5, wound: 5, held: 7, scrap: 0, imbalance: 0 },
  happenings: [],
  solver: { steps: 1, evaluations: 1, events: 0 },
}

const withSpan = (change: Partial<Summary['spans'][number]>): Summary => ({
  ...calm,
  spans: [{ ...calm.spans[0], ...change }],
})
const first = (summary: Summary) => verdict(summary, plan, 'metric').sentences[0]

describe('a run inside its limits', () => {
  test('says so first and names the most strained span', () => {
    expect(first(calm)).toEqual({
      severity: 'ok',
      text: 'The film stays inside its limits. It is strained most a → b: 32 % of its elastic limit.',
    })
  })

  test('names what it rests on, the weakest first', () => {
    expect(verdict(calm, plan, 'metric').weakest).toContain('limits that you set')
    const thin = { ...calm, rollers: [{ name: 'idler 1', tractionMargin: 0.1, at: 3 }] }
    expect(verdict(thin, plan, 'metric').weakest).toContain('friction')
  })
})

describe('a broken limit', () => {
  test('past the elastic limit', () => {
    const { severity, text } = first(withSpan({ limitShare: 1.25 }))
    expect(severity).toBe('bad')
    expect(text).toContain('stretched past its elastic limit: 125 %')
  })

  test('past the allowed share only', () => {
    const { severity, text } = first(withSpan({ limitShare: 0.45 }))
    expect(severity).toBe('bad')
    expect(text).toContain('reaches 45 % of its elastic limit')
    expect(text).toContain('40 % is allowed')
  })

  test('slack, and below the least tension', () => {
    expect(first(withSpan({ slackSeconds: 0.25 })).text).toContain('hangs slack for 0.25 s')
    const low = first(withSpan({ tension: { ...calm.spans[0].tension, min: 12 } }))
    expect(low.severity).toBe('warn')
    expect(low.text).toContain('falls to 12 N at 2 s; 20 N is wanted')
  })

  test('a dancer on its stop, and one near it', () => {
    const [dancer] = calm.dancers
    const spent = first({ ...calm, dancers: [{ ...dancer, max: 0.1, stopSeconds: 0.4 }] })
    expect(spent.severity).toBe('bad')
    expect(spent.text).toContain('lies on a stop for 0.4 s')
    const near = first({ ...calm, dancers: [{ ...dancer, max: 0.095, travelUsed: 0.575 }] })
    expect(near).toMatchObject({ severity: 'warn' })
    expect(near.text).toContain('Little is left to a stop')
  })

  test('slip, a saturated drive, a roll that runs out', () => {
    expect(first({ ...calm, rollers: [{ name: 'idler 1', tractionMargin: -0.2, at: 3 }] }).text).toContain('would slip')
    expect(first({ ...calm, drives: [{ name: 'nip', peakTorque: 10, limitShare: 1 }] }).text).toContain('torque limit')
    const out = { at: 4, part: 'unwind', what: 'runs out' as const, say: 'The film on unwind runs out.' }
    expect(first({ ...calm, happenings: [out] }).text).toContain('That ends the run at 4 s')
  })

  test('an index feed that swings more film than its dancer can take', () => {
    const feed = { name: 'index roller', swing: 0.5, dancers: [{ name: 'infeed dancer', needs: 0.25, has: 0.2 }] }
    const { sentences } = verdict(calm, { ...plan, feeds: [feed] }, 'metric')
    expect(sentences[0].text).toContain('needs 250 mm of travel for it and has 200 mm')
    expect(sentences[0].severity).toBe('bad')
  })
})

test('worst first: past the limit before slack before a warning', () => {
  const [dancer] = calm.dancers
  const many: Summary = {
    ...withSpan({ limitShare: 1.3, slackSeconds: 1 }),
    dancers: [{ ...dancer, max: 0.095 }],
  }
  expect(verdict(many, plan, 'metric').sentences.map((s) => s.severity)).toEqual(['bad', 'bad', 'warn'])
  expect(first(many).text).toContain('past its elastic limit')
})

test('in inch units for who reads inches', () => {
  const text = verdict(withSpan({ limitShare: 1.25 }), plan, 'inch').sentences[0].text
  expect(text).toContain('lbf')
  expect(text).not.toMatch(/\d N\b/)
})

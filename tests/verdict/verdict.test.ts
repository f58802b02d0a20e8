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
    {
      name: 'infeed dancer',
      ...{ start: 0, end: 0, min: -0.02, max: 0.03, atMin: 4, atMax: 6, travelUsed: 0.25, stopSeconds: 0, ripple: 0 },
    },
  ],
  rollers: [{ name: 'idler 1', tractionMargin: 0.8, at: 3 }],
  drives: [{ name: 'nip', peakTorque: 3, peakAt: 5, limitShare: 0.3 }],
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
      text: 'The film stays inside its limits. It is strained most a → b, at 3 s: 32 % of its elastic limit.',
    })
  })

  test('names what it rests on, the weakest first', () => {
    expect(verdict(calm, plan, 'metric').weakest).toContain('illustrative limits')
    const thin = { ...calm, rollers: [{ name: 'idler 1', tractionMargin: 0.1, at: 3 }] }
    expect(verdict(thin, plan, 'metric').weakest).toContain('an illustrative friction between film and rollers')
  })
})

describe('a broken limit', () => {
  test('past the elastic limit', () => {
    const { severity, text } = first(withSpan({ limitShare: 1.25 }))
    expect(severity).toBe('bad')
    expect(text).toContain(
      'stretched past its elastic limit: 125 % of it at 3 s (the tension there peaks at 32 N, at 3 s)',
    )
  })

  test('past the allowed share only', () => {
    const { severity, text } = first(withSpan({ limitShare: 0.45 }))
    expect(severity).toBe('bad')
    expect(text).toContain('reaches 45 % of its elastic limit at 3 s')
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
    expect(near.text).toContain('At 6 s only 5 mm is left to its upper stop: move its set point')
    const low = first({ ...calm, dancers: [{ ...dancer, min: -0.095, max: 0, travelUsed: 0.475 }] })
    expect(low.text).toContain('(−95 mm to 0 mm of −100 mm to 100 mm). At 4 s only 5 mm is left to its lower stop')
  })

  test('slip, a saturated drive, a roll that runs out', () => {
    expect(first({ ...calm, rollers: [{ name: 'idler 1', tractionMargin: -0.2, at: 3 }] }).text).toContain('would slip')
    expect(first({ ...calm, drives: [{ name: 'nip', peakTorque: 10, peakAt: 5, limitShare: 1 }] }).text).toContain(
      'torque limit (10 N m) at 5 s',
    )
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

test('slack and a stop are told with when they began, as it happened', () => {
  const [dancer] = calm.dancers
  const happenings = [
    { at: 1.5, part: 'a → b', what: 'slack' as const, say: 'The film hangs slack.' },
    { at: 2.5, part: 'infeed dancer', what: 'stop touched' as const, say: 'It touches its upper stop.' },
    { at: 7, part: 'a → b', what: 'slack' as const, say: 'The film hangs slack.' },
  ]
  const slack = { ...withSpan({ slackSeconds: 0.25 }), happenings }
  expect(first(slack).text).toContain('for 0.25 s, first at 1.5 s')
  const stopped = { ...calm, dancers: [{ ...dancer, stopSeconds: 1 }], happenings }
  expect(first(stopped).text).toContain('lies on a stop for 1 s, first at 2.5 s')
})

test('whatever is wrong, each sentence says when and what would change it', () => {
  const [dancer] = calm.dancers
  const wrong: Summary[] = [
    withSpan({ limitShare: 1.25 }),
    withSpan({ limitShare: 0.45 }),
    withSpan({ slackSeconds: 1 }),
    withSpan({ tension: { ...calm.spans[0].tension, min: 12 } }),
    { ...calm, dancers: [{ ...dancer, stopSeconds: 1 }] },
    { ...calm, dancers: [{ ...dancer, max: 0.095 }] },
    { ...calm, rollers: [{ name: 'idler 1', tractionMargin: -0.2, at: 3 }] },
    { ...calm, rollers: [{ name: 'idler 1', tractionMargin: 0.1, at: 3 }] },
    { ...calm, drives: [{ name: 'nip', peakTorque: 10, peakAt: 5, limitShare: 1 }] },
  ]
  const advice = /Raise|[Ll]ower the|ease|Slow|[Mm]ove its|Give it|[Mm]ore wrap|fit more/
  for (const summary of wrong) {
    const { severity, text } = first(summary)
    expect(severity).not.toBe('ok')
    expect(text).toMatch(/(at|At) \d+(\.\d+)? s/)
    expect(text).toMatch(advice)
  }
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

import { describe, expect, test } from 'vitest'
import { rangeOf, stretchesOf, within } from '../../src/app/charts/levels'
import { filmLimits, strainAt, tensionFrame } from '../../src/app/charts/limits'
import { repeated } from '../../src/app/parts/repeats'
import { Trace } from '../../src/app/state/trace'
import type { Channel, RunPlan } from '../../src/run/record'

const channel = (group: 'tension' | 'limit'): Channel => {
  return { key: `${group}/a → b`, group, name: 'a → b', kind: 'force', place: 0 }
}
const plan: RunPlan = {
  title: 'thin after thick',
  duration: 4,
  tick: 1,
  channels: [channel('tension'), channel('limit')],
  spans: [{ name: 'a → b', elasticTension: 600, most: 240, least: 20 }],
  dancers: [],
  pace: { fastestMode: 1, fastestDecay: 1 },
  events: [],
  feeds: [],
}
const spliced = new Trace(plan)
const columns = [
  [0, 1, 2, 3],
  [90, 90, 80, 70],
  [600, 600, 200, 200],
]
spliced.append({ from: 0, count: 4, data: Float64Array.from(columns.flat()), lifts: [], happenings: [] })
const whole = { min: 0, max: 4 }

describe('limits in time', () => {
  test('a limit holds from the sample that first has it to the next; the last goes on', () => {
    expect(stretchesOf(Float64Array.of(0, 1, 2), Float64Array.of(6, 6, 2), 10)).toEqual([
      { from: 0, to: 2, value: 60 },
      { from: 2, to: Infinity, value: 20 },
    ])
    expect(stretchesOf(new Float64Array(), new Float64Array(), 1)).toEqual([])
  })

  test('the band follows the film at the same share', () => {
    const limits = filmLimits(spliced, 'a → b', 1)
    expect(limits?.elastic.map(({ value }) => value)).toEqual([600, 200])
    expect(limits?.most.map(({ from, value }) => [from, value])).toEqual([
      [0, 240],
      [2, 80],
    ])
    expect(limits?.least).toEqual([{ from: 0, to: Infinity, value: 20 }])
  })

  test('without such a channel the plan tells the limit, for the whole run', () => {
    const plain = new Trace({ ...plan, channels: [channel('tension')] })
    expect(filmLimits(plain, 'a → b', 2)?.elastic).toEqual([{ from: 0, to: Infinity, value: 1200 }])
    expect(filmLimits(plain, 'no such span', 1)?.least).toEqual([{ from: 0, to: Infinity, value: 20 }])
    expect(filmLimits(null, 'a → b', 1)).toBeUndefined()
  })

  test('the reading at the cursor is of the film there', () => {
    expect(strainAt(spliced, 'a → b', 1)).toEqual({ limit: 600, share: 0.15 })
    expect(strainAt(spliced, 'a → b', 2)).toEqual({ limit: 200, share: 0.4 })
    expect(strainAt(spliced, 'elsewhere', 2)).toBeUndefined()
  })

  test('only what a window shows counts', () => {
    const { elastic } = filmLimits(spliced, 'a → b', 1) ?? { elastic: [] }
    expect(rangeOf(elastic, whole)).toEqual({ min: 200, max: 600 })
    expect(rangeOf(elastic, { min: 2.5, max: 3 })).toEqual({ min: 200, max: 200 })
    expect(within(elastic, { min: 1, max: 3 })).toEqual([
      { from: 1, to: 2, value: 600 },
      { from: 2, to: 3, value: 200 },
    ])
  })

  test('where the higher limit is too far off the picture reaches the lower, unless the user says otherwise', () => {
    const limits = filmLimits(spliced, 'a → b', 1)
    const frame = (max: number, wish?: boolean) => tensionFrame({ min: 50, max }, limits, whole, wish)
    expect(frame(150).reaches).toBe(true)
    expect(frame(150).y.max).toBeGreaterThan(600)
    expect(frame(90).reaches).toBe(false)
    expect(frame(90).y.max).toBeGreaterThan(200)
    expect(frame(90).y.max).toBeLessThan(600)
    expect(frame(90, true).y.max).toBeGreaterThan(600)
    expect(frame(90, false).y.max).toBeLessThan(200)
  })
})

test('happenings that repeat are told once, in the order of their first', () => {
  const happening = (at: number, say: string) => ({ at, part: 'idler', what: 'sticks', say }) as const
  const all = [happening(1, 'idler sticks.'), happening(2, 'It turns.'), happening(3, 'idler sticks.')]
  expect(repeated(all)).toEqual([
    { say: 'idler sticks.', times: [1, 3] },
    { say: 'It turns.', times: [2] },
  ])
  expect(repeated([])).toEqual([])
})

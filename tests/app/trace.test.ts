import { expect, test } from 'vitest'
import { Trace } from '../../src/app/state/trace'
import type { Block, RunPlan } from '../../src/run/record'

const channel = (group: 'tension' | 'speed', name: string) =>
  ({ key: `${group}/${name}`, group, name, kind: group === 'tension' ? 'force' : 'speed', place: 0 }) as const

const plan: RunPlan = {
  title: 'two signals',
  duration: 1,
  tick: 0.1,
  channels: [channel('tension', 'a → b'), channel('speed', 'a')],
  spans: [{ name: 'a → b', elasticTension: 100, most: 40, least: 5 }],
  dancers: [],
  pace: { fastestMode: 1, fastestDecay: 1 },
  events: [],
  feeds: [],
}

/** Samples `from` onwards: time, tension = 10 x time, speed = -time. */
function block(from: number, count: number, lifts: number[] = []): Block {
  const data = new Float64Array(3 * count)
  for (let i = 0; i < count; i++) data.set([(from + i) / 10], i)
  for (let i = 0; i < count; i++) data.set([from + i], count + i)
  for (let i = 0; i < count; i++) data.set([-(from + i) / 10], 2 * count + i)
  return { from, count, data, lifts, happenings: [] }
}

test('blocks come together column by column, beyond the length that was expected', () => {
  const trace = new Trace(plan)
  expect([trace.count, trace.reached, trace.values(0).length]).toEqual([0, 0, 0])
  trace.append(block(0, 4))
  trace.append(block(4, 2, [4]))
  trace.append(block(6, 500))
  expect(trace.count).toBe(506)
  expect(Array.from(trace.values(0))).toEqual(Array.from({ length: 506 }, (_, i) => i))
  expect(trace.values(1)[505]).toBe(-50.5)
  expect(trace.reached).toBe(50.5)
  expect(trace.lifts).toEqual([4])
})

test('extremes follow the samples with their times', () => {
  const trace = new Trace(plan)
  trace.append(block(0, 4))
  trace.append(block(4, 3))
  expect(trace.extremes[0]).toEqual({ min: 0, atMin: 0, max: 6, atMax: 0.6 })
  expect(trace.extremes[1]).toEqual({ min: -0.6, atMin: 0.6, max: -0, atMax: 0 })
})

test('channels are found by group, with their numbers', () => {
  expect(new Trace(plan).group('speed').map(({ index, channel: { name } }) => [index, name])).toEqual([[1, 'a']])
})

test('the share of the limit is that of the film that lay there, sample by sample', () => {
  const limit = { ...channel('tension', 'a → b'), key: 'limit/a → b', group: 'limit' } as const
  const spliced = { ...plan, channels: [channel('tension', 'a → b'), limit] }
  const trace = new Trace(spliced)
  const [time, tension, limits] = [
    [0, 1, 2, 3],
    [30, 60, 24, 10],
    [100, 100, 30, 30],
  ]
  trace.append({
    from: 0,
    count: 4,
    data: Float64Array.from([time, tension, limits].flat()),
    lifts: [],
    happenings: [],
  })
  expect(trace.shares.get('a → b')).toBeCloseTo(0.8, 12)
  const plain = new Trace(plan)
  plain.append(block(0, 5))
  expect(plain.shares.get('a → b')).toBeCloseTo(0.04, 12)
})

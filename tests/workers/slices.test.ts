import { expect, test } from 'vitest'
import type { Block, RunPlan } from '../../src/run/record'
import { runInSlices, usualPace, type Teller } from '../../workers/slices'
import { FakeClock, FakeRun, finished } from './fakes'

interface Told {
  readonly at: number
  readonly what: RunPlan | Block | number
}

function setUp({ cost = 1, duration = 10 } = {}) {
  const clock = new FakeClock()
  const run = new FakeRun(duration, () => (clock.time += cost))
  const told: Told[] = []
  const blocks: (Block & { at: number })[] = []
  const shares: number[] = []
  const teller: Teller = {
    began: (plan) => Promise.resolve(told.push({ at: clock.time, what: plan })),
    block: (block) => {
      told.push({ at: clock.time, what: block })
      return Promise.resolve(blocks.push({ ...block, at: clock.time }))
    },
    progress: (share, time) => {
      told.push({ at: clock.time, what: time })
      return Promise.resolve(shares.push(share))
    },
  }
  return { clock, run, teller, told, blocks, shares }
}

const never = () => false

test('a run that is left alone ends with its own outcome and every sample told once, in order', async () => {
  const { clock, run, teller, told, blocks } = setUp()
  expect(await runInSlices(run, teller, clock, never)).toBe(finished)
  expect(told[0]?.what).toBe(run.plan)
  let next = 0
  for (const { from, count, data } of blocks) {
    expect(from).toBe(next)
    expect(data.buffer.byteLength).toBe(data.byteLength)
    next += count
  }
  expect(next).toBe(1000)
  expect(blocks.length).toBeGreaterThan(10)
})

test('works about 10 ms between pauses', async () => {
  const { clock, run, teller } = setUp({ cost: 0.25 })
  await runInSlices(run, teller, clock, never)
  const gaps = clock.pauses.slice(1).map((pause, i) => pause - clock.pauses[i])
  expect(gaps.length).toBeGreaterThan(5)
  expect(Math.max(...gaps)).toBeLessThanOrEqual(10.25)
})

test('the first block goes out at the first second of line time', async () => {
  const { clock, run, teller, blocks } = setUp({ cost: 0.05 })
  await runInSlices(run, teller, clock, never)
  expect(blocks[0]?.count).toBe(100)
  expect(blocks[0]?.at).toBeCloseTo(5)
})

test('the first block of a slow run goes out after 15 ms with what there is', async () => {
  const { clock, run, teller, blocks } = setUp({ cost: 5 })
  await runInSlices(run, teller, clock, never)
  expect(blocks[0]?.count).toBe(3)
  expect(blocks[0]?.at).toBe(15)
})

test('later blocks go out about every 50 ms', async () => {
  const { clock, run, teller, blocks } = setUp()
  await runInSlices(run, teller, clock, never)
  const gaps = blocks.slice(1, -1).map((block, i) => block.at - blocks[i].at)
  expect(gaps.length).toBeGreaterThan(10)
  expect(Math.min(...gaps)).toBeGreaterThanOrEqual(50)
  expect(Math.max(...gaps)).toBeLessThanOrEqual(61)
})

test('progress grows to the whole', async () => {
  const { clock, run, teller, shares } = setUp()
  await runInSlices(run, teller, clock, never)
  expect(shares.length).toBeGreaterThan(10)
  expect([...shares].sort((a, b) => a - b)).toEqual(shares)
  expect(shares.at(-1)).toBe(1)
})

test('a cancel is heard within 50 ms, and nothing is told after it', async () => {
  const { clock, run, teller, told } = setUp({ cost: 4, duration: 1e6 })
  let stopped = false
  clock.at(500, () => (stopped = true))
  expect(await runInSlices(run, teller, clock, () => stopped)).toEqual({ outcome: 'cancelled' })
  expect(clock.time).toBeGreaterThanOrEqual(500)
  expect(clock.time).toBeLessThanOrEqual(550)
  expect(told.every(({ at }) => at <= clock.time)).toBe(true)
})

test('a page that does not take its blocks gets no second one, and all in one piece at the end', async () => {
  const { clock, run, teller, blocks } = setUp({ duration: 5 })
  let take = () => {}
  const slow: Teller = {
    ...teller,
    block: async (block) => {
      await teller.block(block)
      if (blocks.length === 1) await new Promise<void>((resolve) => (take = resolve))
    },
  }
  clock.at(400, () => {
    expect(blocks).toHaveLength(1)
    take()
  })
  expect(await runInSlices(run, slow, clock, never)).toBe(finished)
  expect(blocks.length).toBeGreaterThan(1)
  expect(blocks[1].count).toBeGreaterThan(300)
  expect(blocks.reduce((sum, { count }) => sum + count, 0)).toBe(500)
})

test('the outcome waits until the last block has been taken', async () => {
  const { clock, run, teller, blocks } = setUp({ duration: 0.5 })
  const slow: Teller = {
    ...teller,
    block: async (block) => {
      await new Promise((resolve) => setTimeout(resolve, 5))
      await teller.block(block)
    },
  }
  await runInSlices(run, slow, clock, never)
  expect(blocks.reduce((sum, { count }) => sum + count, 0)).toBe(50)
})

test('a page that cannot take a block breaks the run off with its own error', async () => {
  const { clock, run, teller } = setUp()
  const broken: Teller = { ...teller, block: () => Promise.reject(new Error('no canvas')) }
  await expect(runInSlices(run, broken, clock, never)).rejects.toThrow('no canvas')
  expect(run.steps).toBeLessThan(1000)
})

test('computing time is bounded, and the message says how far it came and what to try', async () => {
  const { clock, run, teller, blocks } = setUp({ cost: 100, duration: 60 })
  const outcome = await runInSlices(run, teller, clock, never)
  expect(clock.time).toBe(usualPace.budget)
  if (outcome.outcome !== 'failed') throw new Error(`ended as ${outcome.outcome}`)
  expect(outcome.at).toBeCloseTo(12)
  expect(outcome.say).toContain('120 s of computing time and reached 12.00 s of 60 s')
  expect(outcome.say).toContain('run/for')
  expect(blocks.reduce((sum, { count }) => sum + count, 0)).toBe(1200)
})

test('time that passes in pauses, a sleeping computer, is not counted as computing time', async () => {
  const { clock, run, teller } = setUp({ cost: 1, duration: 1 })
  const sleepy = { now: clock.now, pause: () => ((clock.time += 60_000), clock.pause()) }
  expect(await runInSlices(run, teller, sleepy, never)).toBe(finished)
  expect(clock.time).toBeGreaterThan(usualPace.budget)
})

test('a step that throws ends the run with the error', async () => {
  const { clock, run, teller } = setUp()
  run.step = () => {
    throw new Error('a state is lost')
  }
  await expect(runInSlices(run, teller, clock, never)).rejects.toThrow('a state is lost')
})

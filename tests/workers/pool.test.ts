import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import type { JobAnswer } from '../../workers/job-service'
import type { JobEars, JobLink } from '../../workers/member'
import { Pool } from '../../workers/pool'

beforeEach(() => void vi.useFakeTimers())
afterEach(() => void vi.useRealTimers())

/** Only the names and types matter: the fake workers answer as the test says. */
const jobs = {
  double: () => (input: number) => 2 * input,
  word: (common: string) => (input: number) => `${common}${input}`,
}

interface Asked {
  readonly call: number
  readonly job: number
  readonly input: unknown
  answer(answer: JobAnswer): Promise<void>
  fail(why: string): Promise<void>
}

class FakeLink implements JobLink {
  readonly ready = Promise.resolve()
  readonly begun: unknown[][] = []
  readonly ended: number[] = []
  asked: Asked[] = []
  closed = false

  constructor(
    readonly ears: JobEars,
    readonly lost: (why: string) => void,
  ) {}

  begin = (...args: unknown[]) => void this.begun.push(args)
  end = (job: number) => void this.ended.push(job)
  close = () => void (this.closed = true)

  compute = (call: number, job: number, input: unknown) =>
    new Promise<JobAnswer>((resolve, reject) => {
      const settled = (act: () => void) => {
        this.asked = this.asked.filter((one) => one.call !== call)
        act()
        return flush()
      }
      this.asked.push({
        call,
        job,
        input,
        answer: (answer) => settled(() => resolve(answer)),
        fail: (why) => settled(() => reject(new Error(why))),
      })
    })
}

const flush = async () => {
  for (let i = 0; i < 10; i++) await Promise.resolve()
}

function setUp(size = 2) {
  const links: FakeLink[] = []
  const clock = { now: 0 }
  const pool = new Pool<typeof jobs>(
    (ears, lost) => {
      const link = new FakeLink(ears, lost)
      links.push(link)
      return link
    },
    size,
    () => clock.now,
  )
  return { links, clock, pool }
}

const doubled = (asked: Asked) => asked.answer({ ok: true, value: 2 * Number(asked.input) })
const inputsOf = (links: readonly FakeLink[]) => links.flatMap(({ asked }) => asked.map(({ input }) => input))

async function settled<T>(promise: Promise<T>): Promise<T | 'open'> {
  await flush()
  return Promise.race([promise, Promise.resolve('open' as const)])
}

/** Answers whatever is asked until nothing is. */
async function answerAll(links: readonly FakeLink[]): Promise<void> {
  for (let asked = links.flatMap((link) => link.asked); asked.length > 0; asked = links.flatMap((link) => link.asked)) {
    for (const one of asked) await doubled(one)
  }
}

test('inputs are shared out, results come in the order of the inputs whatever order they arrive in', async () => {
  const { links, pool } = setUp()
  const { outcome } = pool.start('double', undefined, [1, 2, 3])
  expect(inputsOf(links)).toEqual([1, 2])
  await doubled(links[1].asked[0])
  await doubled(links[1].asked[0])
  expect(await settled(outcome)).toBe('open')
  await doubled(links[0].asked[0])
  const results = [2, 4, 6].map((value) => ({ ok: true, value }))
  expect(await settled(outcome)).toEqual({ outcome: 'finished', results })
})

test('what the inputs share crosses once to each worker', async () => {
  const { links, pool } = setUp()
  const { outcome } = pool.start('word', 'a', [1, 2, 3, 4, 5])
  await answerAll(links)
  await settled(outcome)
  expect(links.map(({ begun }) => begun.length)).toEqual([1, 1])
  expect(links[0].begun[0].slice(1)).toEqual(['word', 'a'])
  expect(links[0].ended).toHaveLength(1)
})

test('a job without inputs is done at once', async () => {
  const { pool, links } = setUp()
  expect(await settled(pool.start('double', undefined, []).outcome)).toEqual({ outcome: 'finished', results: [] })
  expect(links).toHaveLength(0)
})

test('results are streamed as they come', async () => {
  const { links, pool } = setUp()
  const heard: unknown[] = []
  pool.start('double', undefined, [1, 2, 3], { result: (index, result) => heard.push([index, result]) })
  await doubled(links[1].asked[0])
  expect(heard).toEqual([[1, { ok: true, value: 4 }]])
  await answerAll(links)
  expect(heard).toHaveLength(3)
})

test('progress counts what is done and the shares under way, and tells the time left', async () => {
  const { links, clock, pool } = setUp(1)
  const told: (readonly [number, number | undefined])[] = []
  pool.start('double', undefined, [1, 2], { progress: (share, left) => told.push([share, left]) })
  const [first] = links[0].asked
  links[0].ears.progress(first.call, 0.01)
  clock.now = 3
  links[0].ears.progress(first.call, 0.5)
  await doubled(first)
  clock.now = 4
  await doubled(links[0].asked[0])
  expect(told).toEqual([
    [0.005, undefined],
    [0.25, 9],
    [0.5, 3],
    [1, 0],
  ])
})

test('what a call said before it was lost is not counted again', async () => {
  const { links, pool } = setUp(1)
  const shares: number[] = []
  pool.start('double', undefined, [1], { progress: (share) => shares.push(share) })
  const old = links[0].asked[0].call
  links[0].lost('gone')
  await flush()
  links[0].ears.progress(old, 0.9)
  expect(shares).toEqual([])
})

test('two jobs are served in turn', async () => {
  const { links, pool } = setUp(1)
  pool.start('double', undefined, [1, 2, 3])
  pool.start('double', undefined, [10, 20])
  const order: unknown[] = []
  while (links[0].asked.length > 0) {
    order.push(links[0].asked[0].input)
    await doubled(links[0].asked[0])
  }
  expect(order).toEqual([1, 2, 10, 3, 20])
})

test('a cancel settles at once and stops the worker; the next job waits until it has stopped', async () => {
  const { links, pool } = setUp(1)
  const heard: unknown[] = []
  const ticket = pool.start('double', undefined, [1, 2], { result: (index) => heard.push(index) })
  ticket.cancel()
  expect(await settled(ticket.outcome)).toEqual({ outcome: 'cancelled' })
  expect(links[0].ended).toEqual([links[0].asked[0].job])
  const next = pool.start('double', undefined, [5])
  expect(inputsOf(links)).toEqual([1])
  await links[0].asked[0].answer('stopped')
  expect(inputsOf(links)).toEqual([5])
  await answerAll(links)
  expect(await settled(next.outcome)).toMatchObject({ outcome: 'finished' })
  expect(heard).toEqual([])
  expect(links).toHaveLength(1)
})

test('an answer that comes all the same after a cancel is not heard', async () => {
  const { links, pool } = setUp(1)
  const heard: unknown[] = []
  const ticket = pool.start('double', undefined, [1], { result: (index) => heard.push(index) })
  ticket.cancel()
  await doubled(links[0].asked[0])
  expect(heard).toEqual([])
})

test('a worker that does not stop is replaced', async () => {
  const { links, pool } = setUp(1)
  pool.start('double', undefined, [1]).cancel()
  const next = pool.start('double', undefined, [5])
  await flush()
  await vi.advanceTimersByTimeAsync(2_000)
  expect(links).toHaveLength(2)
  expect(links[0].closed).toBe(true)
  await answerAll([links[1]])
  expect(await settled(next.outcome)).toMatchObject({ outcome: 'finished' })
})

test('a newer job of the same key supersedes the older; another key is left alone', async () => {
  const { links, pool } = setUp(3)
  const older = pool.start('double', undefined, [1], { key: 'map' })
  const other = pool.start('double', undefined, [2], { key: 'advice' })
  const newer = pool.start('double', undefined, [3], { key: 'map' })
  expect(await settled(older.outcome)).toEqual({ outcome: 'cancelled' })
  await answerAll(links)
  expect(await settled(newer.outcome)).toMatchObject({ results: [{ value: 6 }] })
  expect(await settled(other.outcome)).toMatchObject({ results: [{ value: 4 }] })
})

test('the input of a lost worker is tried once more, on a fresh one', async () => {
  const { links, pool } = setUp(1)
  const { outcome } = pool.start('double', undefined, [1, 2])
  links[0].lost('out of memory')
  await flush()
  expect(links).toHaveLength(2)
  expect(links[0].closed).toBe(true)
  expect(inputsOf([links[1]])).toEqual([1])
  await answerAll([links[1]])
  const results = [2, 4].map((value) => ({ ok: true, value }))
  expect(await settled(outcome)).toEqual({ outcome: 'finished', results })
})

test('an input that loses its worker twice is reported as a value, and the others go on', async () => {
  const { links, pool } = setUp(1)
  const { outcome } = pool.start('double', undefined, [1, 2])
  links[0].lost('out of memory')
  await links[1].asked[0].fail('out of memory')
  await answerAll([links[2]])
  const end = await settled(outcome)
  if (end === 'open' || end.outcome !== 'finished') throw new Error('not finished')
  expect(end.results[0]).toMatchObject({ ok: false })
  expect(end.results[0].ok ? '' : end.results[0].say).toContain('out of memory')
  expect(end.results[1]).toEqual({ ok: true, value: 4 })
})

test('a computation that breaks off by itself is a value at once', async () => {
  const { links, pool } = setUp(1)
  const { outcome } = pool.start('double', undefined, [1])
  await links[0].asked[0].answer({ ok: false, say: 'no such part' })
  expect(await settled(outcome)).toEqual({ outcome: 'finished', results: [{ ok: false, say: 'no such part' }] })
  expect(links).toHaveLength(1)
})

test('workers that are lost one after another fail the job instead of being tried for ever', async () => {
  const { links, pool } = setUp(2)
  const { outcome } = pool.start('double', undefined, [1, 2, 3, 4, 5, 6, 7, 8])
  for (let i = 0; i < links.length && i < 50; i++) {
    if (!links[i].closed) links[i].lost('no such file')
    await flush()
  }
  const end = await settled(outcome)
  expect(end).toMatchObject({ outcome: 'failed' })
  expect(JSON.stringify(end)).toContain('no such file')
  expect(links.length).toBeLessThan(10)
})

test('a worker that cannot be made at all fails the job in words', async () => {
  const pool = new Pool<typeof jobs>(
    () => {
      throw new Error('workers are forbidden here')
    },
    2,
    () => 0,
  )
  const end = await settled(pool.start('double', undefined, [1, 2, 3, 4]).outcome)
  expect(JSON.stringify(end)).toContain('workers are forbidden here')
})

test('a worker without a word is given up after two minutes; one that tells its share is not', async () => {
  const { links, pool } = setUp(1)
  pool.start('double', undefined, [1])
  await vi.advanceTimersByTimeAsync(119_000)
  links[0].ears.progress(links[0].asked[0].call, 0.5)
  await vi.advanceTimersByTimeAsync(119_000)
  expect(links).toHaveLength(1)
  await vi.advanceTimersByTimeAsync(2_000)
  expect(links).toHaveLength(2)
})

test('disposing settles everything and ends the workers; nothing starts afterwards', async () => {
  const { links, pool } = setUp()
  const { outcome } = pool.start('double', undefined, [1, 2, 3])
  pool.dispose()
  expect(await settled(outcome)).toEqual({ outcome: 'cancelled' })
  expect(links.every(({ closed }) => closed)).toBe(true)
  expect(await settled(pool.start('double', undefined, [1]).outcome)).toEqual({ outcome: 'cancelled' })
  expect(links).toHaveLength(2)
})

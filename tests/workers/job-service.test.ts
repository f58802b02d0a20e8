/** The worker's half of the pool alone, then both halves over a real message channel. */
import { afterEach, expect, test } from 'vitest'
import { openJobLink, serveJobs } from '../../workers/bridge'
import { JobService } from '../../workers/job-service'
import { Pool } from '../../workers/pool'
import { FakeClock, PortWorker } from './fakes'

const ports: MessagePort[] = []
afterEach(() => ports.splice(0).forEach((port) => port.close()))

const clock = new FakeClock()
let prepared = 0

const jobs = {
  add: (common: number) => {
    prepared++
    return (input: number) => common + input
  },
  /** 4 ms a step */
  steps: () =>
    function* (count: number): Generator<number, string> {
      for (let i = 1; i <= count; i++) {
        clock.time += 4
        yield i / count
      }
      return `${count} steps`
    },
  broken: () => () => {
    throw new Error('a state is lost')
  },
}

function service() {
  const told: number[] = []
  return { told, service: new JobService(jobs, (_, share) => void told.push(share), clock) }
}

test('what inputs share is prepared once', async () => {
  const { service: s } = service()
  prepared = 0
  s.begin(1, 'add', 10)
  expect(await s.compute(1, 1, 5)).toEqual({ ok: true, value: 15 })
  expect(await s.compute(2, 1, 6)).toEqual({ ok: true, value: 16 })
  expect(prepared).toBe(1)
})

test('a long computation pauses about every 10 ms and tells its share about every 100 ms', async () => {
  const { service: s, told } = service()
  const [from, pauses] = [clock.time, clock.pauses.length]
  s.begin(1, 'steps', undefined)
  expect(await s.compute(1, 1, 250)).toEqual({ ok: true, value: '250 steps' })
  const spent = clock.time - from
  expect(spent).toBe(1000)
  const gaps = clock.pauses.slice(pauses + 1).map((at, i) => at - clock.pauses[pauses + i])
  expect(Math.max(...gaps)).toBeLessThanOrEqual(12)
  expect(told.length).toBeGreaterThan(5)
  expect(told.length).toBeLessThanOrEqual(10)
  expect([...told].sort((a, b) => a - b)).toEqual(told)
})

test('the end of its job stops a computation under way within a slice', async () => {
  const { service: s } = service()
  const from = clock.time
  s.begin(1, 'steps', undefined)
  clock.at(from + 100, () => s.end(1))
  expect(await s.compute(1, 1, 1e6)).toBe('stopped')
  expect(clock.time - from).toBeLessThanOrEqual(120)
})

test('an input of a job that was ended before it began is not computed', async () => {
  const { service: s } = service()
  s.begin(1, 'broken', undefined)
  s.end(1)
  expect(await s.compute(1, 1, 5)).toBe('stopped')
})

test('what is thrown, and a name that nobody knows, are said as values', async () => {
  const { service: s } = service()
  s.begin(1, 'broken', undefined)
  s.begin(2, 'dance', undefined)
  expect(await s.compute(1, 1, 0)).toEqual({ ok: false, say: 'a state is lost' })
  expect(JSON.stringify(await s.compute(2, 2, 0))).toContain('dance')
})

test('computing time is bounded, and the message says how far it came', async () => {
  const { service: s } = service()
  s.begin(1, 'steps', undefined)
  expect(JSON.stringify(await s.compute(1, 1, 100_000))).toContain('120 s of computing time and came to 30 %')
})

function pool(size: number) {
  const workers: PortWorker[] = []
  const made = new Pool<typeof jobs>(
    (ears, lost) => {
      const { port1, port2 } = new MessageChannel()
      ports.push(port1, port2)
      serveJobs(jobs, clock, port2)
      const worker = new PortWorker(port1)
      workers.push(worker)
      return openJobLink(worker.asWorker(), ears, lost)
    },
    size,
    () => clock.time / 1000,
  )
  return { pool: made, workers }
}

test('both halves together: results, streamed and whole, with progress', async () => {
  const { pool: p } = pool(2)
  const [heard, shares]: [number[], number[]] = [[], []]
  const { outcome } = p.start('steps', undefined, [300, 20, 30], {
    result: (index) => heard.push(index),
    progress: (share) => shares.push(share),
  })
  const results = ['300 steps', '20 steps', '30 steps'].map((value) => ({ ok: true, value }))
  expect(await outcome).toEqual({ outcome: 'finished', results })
  expect([...heard].sort()).toEqual([0, 1, 2])
  expect(shares.length).toBeGreaterThan(3)
  expect(shares.at(-1)).toBe(1)
})

test('both halves together: superseded again and again, only the last is computed to its end, by one worker', async () => {
  const { pool: p, workers } = pool(1)
  const tickets = [1e7, 1e7, 1e7, 5].map((count) => p.start('steps', undefined, [count], { key: 'live' }))
  const ends = await Promise.all(tickets.map(({ outcome }) => outcome))
  expect(ends.map(({ outcome }) => outcome)).toEqual(['cancelled', 'cancelled', 'cancelled', 'finished'])
  expect(workers).toHaveLength(1)
})

for (const type of ['error', 'messageerror'])
  test(`both halves together: a worker's ${type} event is survived`, async () => {
    const { pool: p, workers } = pool(1)
    const { outcome } = p.start('add', 1, [1, 2])
    workers[0].listeners.get(type)?.(new Event(type))
    expect(await outcome).toMatchObject({ results: [{ value: 2 }, { value: 3 }] })
    expect(workers).toHaveLength(2)
    expect(workers[0].terminated).toBe(true)
  })

test('data that cannot be sent is said instead of never settling', async () => {
  const { pool: p } = pool(1)
  const { outcome } = p.start('add', (() => 1) as unknown as number, [1])
  expect(JSON.stringify(await outcome)).toContain('could not be cloned')
})

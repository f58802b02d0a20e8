import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import type { Outcome } from '../../src/run/outcome'
import type { Block } from '../../src/run/record'
import { LinkRunner, type Ears, type Link, type RunListener } from '../../workers/runner'
import { finished, planFor, sayOf } from './fakes'

/** A worker that answers only when the test says so. */
class FakeLink implements Link {
  ready: Promise<void> = Promise.resolve()
  closed = false
  cancels = 0
  readonly calls: {
    number: number
    document: unknown
    answer(outcome: Outcome): void
    breakOff(error: unknown): void
  }[] = []

  constructor(
    readonly ears: Ears,
    readonly lost: (why: string) => void,
  ) {}

  run(number: number, document: unknown): Promise<Outcome> {
    return new Promise((answer, breakOff) => this.calls.push({ number, document, answer, breakOff }))
  }

  cancel(): void {
    this.cancels += 1
  }

  close(): void {
    this.closed = true
  }
}

function setUp() {
  const links: FakeLink[] = []
  const runner = new LinkRunner((ears, lost) => {
    const link = new FakeLink(ears, lost)
    links.push(link)
    return link
  })
  return { links, runner }
}

function listener() {
  return { began: vi.fn(), block: vi.fn(), progress: vi.fn() } satisfies RunListener
}

const block: Block = { from: 0, count: 1, data: new Float64Array(2), lifts: [], happenings: [] }
const cancelled = { outcome: 'cancelled' }

/** The outcome a promise has settled with by now. */
async function settled(promise: Promise<Outcome>): Promise<Outcome | 'open'> {
  return Promise.race([promise, vi.advanceTimersByTimeAsync(0).then(() => 'open' as const)])
}

beforeEach(() => void vi.useFakeTimers())
afterEach(() => void vi.useRealTimers())

test('a run hands on what the worker tells, and its outcome', async () => {
  const { links, runner } = setUp()
  const heard = listener()
  const run = runner.run({ title: 'A' }, heard)
  const [link] = links
  const call = link.calls[0]
  expect(call.document).toEqual({ title: 'A' })
  link.ears.began(call.number, planFor(1))
  link.ears.block(call.number, block)
  link.ears.progress(call.number, 0.5, 0.5)
  call.answer(finished)
  expect(await settled(run)).toBe(finished)
  expect(heard.began).toHaveBeenCalledWith(planFor(1))
  expect(heard.block).toHaveBeenCalledWith(block)
  expect(heard.progress).toHaveBeenCalledWith(0.5, 0.5)
})

test('one worker serves one run after the other', async () => {
  const { links, runner } = setUp()
  for (let i = 0; i < 3; i++) {
    const run = runner.run(i, listener())
    links[0].calls[i].answer(finished)
    expect(await settled(run)).toBe(finished)
  }
  expect(links).toHaveLength(1)
  expect(links[0].closed).toBe(false)
})

test('a newer run supersedes: the older settles as cancelled, late words reach nobody', async () => {
  const { links, runner } = setUp()
  const [older, newer] = [listener(), listener()]
  const first = runner.run('A', older)
  const second = runner.run('B', newer)
  expect(await settled(first)).toEqual(cancelled)
  const [a, b] = links[0].calls
  links[0].ears.began(a.number, planFor(1))
  links[0].ears.block(a.number, block)
  links[0].ears.progress(a.number, 1, 1)
  a.answer(finished)
  expect(await settled(second)).toBe('open')
  for (const told of [older, newer]) {
    expect(told.began).not.toHaveBeenCalled()
    expect(told.block).not.toHaveBeenCalled()
    expect(told.progress).not.toHaveBeenCalled()
  }
  links[0].ears.block(b.number, block)
  b.answer(finished)
  expect(await settled(second)).toBe(finished)
  expect(newer.block).toHaveBeenCalledTimes(1)
})

test('cancel settles as cancelled at once, tells the worker, and drops what it still says', async () => {
  const { links, runner } = setUp()
  const heard = listener()
  const run = runner.run('A', heard)
  runner.cancel()
  expect(await settled(run)).toEqual(cancelled)
  expect(links[0].cancels).toBe(1)
  links[0].ears.block(links[0].calls[0].number, block)
  expect(heard.block).not.toHaveBeenCalled()
})

test('a cancel with nothing running does nothing', () => {
  const { links, runner } = setUp()
  runner.cancel()
  expect(links).toHaveLength(0)
})

test('a worker that answers a cancel is kept', async () => {
  const { links, runner } = setUp()
  void runner.run('A', listener())
  runner.cancel()
  links[0].calls[0].answer({ outcome: 'cancelled' })
  await vi.advanceTimersByTimeAsync(10_000)
  expect(links[0].closed).toBe(false)
})

test('a worker that does not answer a cancel within 2 s is ended; the next run gets a fresh one', async () => {
  const { links, runner } = setUp()
  const run = runner.run('A', listener())
  runner.cancel()
  await vi.advanceTimersByTimeAsync(1_999)
  expect(links[0].closed).toBe(false)
  await vi.advanceTimersByTimeAsync(2)
  expect(links[0].closed).toBe(true)
  expect(await settled(run)).toEqual(cancelled)
  const next = runner.run('B', listener())
  links[1].calls[0].answer(finished)
  expect(await settled(next)).toBe(finished)
})

test('a run that waits behind a stuck one is carried over to a fresh worker', async () => {
  const { links, runner } = setUp()
  void runner.run('A', listener())
  const heard = listener()
  const second = runner.run('B', heard)
  await vi.advanceTimersByTimeAsync(2_001)
  expect(links[0].closed).toBe(true)
  const call = links[1].calls[0]
  expect(call.document).toBe('B')
  links[0].ears.block(links[0].calls[1].number, block)
  expect(heard.block).not.toHaveBeenCalled()
  links[1].ears.block(call.number, block)
  expect(heard.block).toHaveBeenCalledTimes(1)
  call.answer(finished)
  expect(await settled(second)).toBe(finished)
})

test('a worker whose program is still being loaded is not taken for stuck', async () => {
  const { links, runner } = setUp()
  void runner.run('A', listener())
  let loaded = () => {}
  links[0].ready = new Promise((resolve) => (loaded = resolve))
  const second = runner.run('B', listener())
  await vi.advanceTimersByTimeAsync(30_000)
  expect(links[0].closed).toBe(false)
  loaded()
  links[0].calls[0].answer({ outcome: 'cancelled' })
  links[0].calls[1].answer(finished)
  expect(await settled(second)).toBe(finished)
  await vi.advanceTimersByTimeAsync(30_000)
  expect(links).toHaveLength(1)
})

test('a crash settles the run as failed, says what to do, and the next run starts a fresh worker', async () => {
  const { links, runner } = setUp()
  const run = runner.run('A', listener())
  links[0].ears.progress(links[0].calls[0].number, 0.5, 3.25)
  links[0].lost('out of memory')
  const outcome = await settled(run)
  expect(outcome).toMatchObject({ outcome: 'failed', at: 3.25 })
  expect(sayOf(outcome)).toMatch(/out of memory.*Run it again/)
  expect(links[0].closed).toBe(true)
  const next = runner.run('B', listener())
  expect(links).toHaveLength(2)
  links[1].calls[0].answer(finished)
  expect(await settled(next)).toBe(finished)
})

test('an error thrown inside settles as failed too', async () => {
  const { links, runner } = setUp()
  const run = runner.run('A', listener())
  links[0].calls[0].breakOff(new Error('a state is lost'))
  expect(sayOf(await settled(run))).toContain('a state is lost')
  expect(links[0].closed).toBe(true)
})

test('a late word of a lost worker about itself does not touch the fresh one', async () => {
  const { links, runner } = setUp()
  void runner.run('A', listener())
  links[0].lost('first')
  const next = runner.run('B', listener())
  links[0].lost('again')
  links[0].calls[0].breakOff(new Error('late'))
  expect(await settled(next)).toBe('open')
  expect(links[1].closed).toBe(false)
})

test('a browser that will not start a worker fails the run in words', async () => {
  const runner = new LinkRunner(() => {
    throw new Error('workers are switched off')
  })
  const outcome = await settled(runner.run('A', listener()))
  expect(sayOf(outcome)).toContain('workers are switched off')
})

test('a worker that says nothing for long is given up', async () => {
  const { links, runner } = setUp()
  const run = runner.run('A', listener())
  await vi.advanceTimersByTimeAsync(100_000)
  links[0].ears.progress(links[0].calls[0].number, 0.1, 1)
  await vi.advanceTimersByTimeAsync(121_000)
  expect(await settled(run)).toBe('open')
  await vi.advanceTimersByTimeAsync(2_000)
  expect(sayOf(await settled(run))).toContain('no word for 120 s')
  expect(links[0].closed).toBe(true)
})

test('a worker that speaks right after a long sleep is kept', async () => {
  const { links, runner } = setUp()
  const run = runner.run('A', listener())
  await vi.advanceTimersByTimeAsync(121_000)
  links[0].ears.progress(links[0].calls[0].number, 0.1, 1)
  await vi.advanceTimersByTimeAsync(10_000)
  expect(await settled(run)).toBe('open')
  expect(links[0].closed).toBe(false)
})

test('dispose settles the run, ends the worker and lets no other begin', async () => {
  const { links, runner } = setUp()
  const run = runner.run('A', listener())
  runner.dispose()
  expect(await settled(run)).toEqual(cancelled)
  expect(links[0].closed).toBe(true)
  expect(await settled(runner.run('B', listener()))).toEqual(cancelled)
  expect(links).toHaveLength(1)
})

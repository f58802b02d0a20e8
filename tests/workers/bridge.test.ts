/** Page and worker halves together over a real message channel, with fake runs and a fake clock. */
import { afterEach, expect, test } from 'vitest'
import type { Outcome } from '../../src/run/outcome'
import type { Block } from '../../src/run/record'
import { openLink, serveRuns } from '../../workers/bridge'
import { LinkRunner, type RunListener } from '../../workers/runner'
import type { Prepare } from '../../workers/service'
import { FakeClock, FakeRun, finished, PortWorker, sayOf } from './fakes'

const open: MessagePort[] = []
afterEach(() => open.splice(0).forEach((port) => port.close()))

function setUp(prepareWith: (clock: FakeClock) => Prepare) {
  const clock = new FakeClock()
  const workers: PortWorker[] = []
  const runner = new LinkRunner((ears, lost) => {
    const { port1, port2 } = new MessageChannel()
    open.push(port1, port2)
    serveRuns(prepareWith(clock), clock, port2)
    const worker = new PortWorker(port1)
    workers.push(worker)
    return openLink(worker.asWorker(), ears, lost)
  })
  return { clock, workers, runner }
}

const runFor =
  (duration: number): ((clock: FakeClock) => Prepare) =>
  (clock) =>
  () =>
    new FakeRun(duration, () => (clock.time += 1))

/** Returns once the run is stepped no more; with a run that goes on the test runs out of time. */
async function untilStill(run: FakeRun): Promise<void> {
  for (let before = -1; run.steps !== before;) {
    before = run.steps
    await new Promise((resolve) => setTimeout(resolve, 20))
  }
}

class Listener implements RunListener {
  readonly blocks: Block[] = []
  titles: string[] = []
  share = 0
  onBlock: () => void = () => {}
  began: RunListener['began'] = (plan) => void this.titles.push(plan.title)
  progress: RunListener['progress'] = (share) => void (this.share = share)
  block: RunListener['block'] = (block) => {
    this.blocks.push(block)
    this.onBlock()
  }
  get samples(): number {
    return this.blocks.reduce((sum, { count }) => sum + count, 0)
  }
}

test('a run arrives whole: plan, every sample in whole buffers, progress and outcome', async () => {
  const { runner } = setUp(runFor(3))
  const listener = new Listener()
  expect(await runner.run({}, listener)).toEqual(finished)
  expect(listener.titles).toEqual(['a fake line'])
  expect(listener.samples).toBe(300)
  expect(listener.blocks.every(({ data }) => data.byteLength === data.buffer.byteLength)).toBe(true)
  expect(listener.share).toBe(1)
})

test('buffers are handed over, not copied', async () => {
  const taken: Block[] = []
  const { runner } = setUp((clock) => () => {
    const run = new FakeRun(1, () => (clock.time += 1))
    const take = run.takeBlock.bind(run)
    run.takeBlock = () => {
      const block = take()
      if (block) taken.push(block)
      return block
    }
    return run
  })
  await runner.run({}, new Listener())
  expect(taken.length).toBeGreaterThan(0)
  expect(taken.every(({ data }) => data.buffer.byteLength === 0)).toBe(true)
})

test('a view into a larger buffer is copied out and its owner keeps the rest', async () => {
  const owner = new Float64Array([7, 1, 2, 7])
  const { runner } = setUp((clock) => () => {
    const run = new FakeRun(0.01, () => (clock.time += 1))
    run.takeBlock = () => ({ from: 0, count: 1, data: owner.subarray(1, 3), lifts: [], happenings: [] })
    return run
  })
  const listener = new Listener()
  await runner.run({}, listener)
  expect([...listener.blocks[0].data]).toEqual([1, 2])
  expect([...owner]).toEqual([7, 1, 2, 7])
})

test('refused and failed travel as values', async () => {
  const refused: Outcome = {
    outcome: 'refused',
    problems: [{ field: 'run/for', path: 'run/for', found: '"3 kg"', expected: 'a time', say: 'run/for: ...' }],
  }
  const { runner } = setUp(
    () => (document) => (document === 'bad' ? refused : { outcome: 'failed', at: 0, state: 'x', say: 'y' }),
  )
  expect(await runner.run('bad', new Listener())).toEqual(refused)
  expect(await runner.run('worse', new Listener())).toEqual({ outcome: 'failed', at: 0, state: 'x', say: 'y' })
})

test('a newer run supersedes a running one, and only the newer goes on to its end', async () => {
  const runs: FakeRun[] = []
  const { runner, workers } = setUp((clock) => (document) => {
    const run = new FakeRun(document === 'endless' ? 1e9 : 2, () => (clock.time += 1))
    runs.push(run)
    return run
  })
  const [older, newer] = [new Listener(), new Listener()]
  let second: Promise<Outcome> | undefined
  let heardByThen = 0
  older.onBlock = () => {
    heardByThen = older.samples
    second ??= runner.run('short', newer)
  }
  expect(await runner.run('endless', older)).toEqual({ outcome: 'cancelled' })
  expect(await second).toEqual(finished)
  expect(older.samples).toBe(heardByThen)
  expect(newer.samples).toBe(200)
  await untilStill(runs[0])
  expect(workers).toHaveLength(1)
})

test('while a control is dragged only the last of the waiting runs is built', async () => {
  const built: unknown[] = []
  const { runner } = setUp((clock) => (document) => {
    built.push(document)
    return new FakeRun(0.1, () => (clock.time += 1))
  })
  const outcomes = await Promise.all([1, 2, 3, 4].map((document) => runner.run(document, new Listener())))
  expect(outcomes.map(({ outcome }) => outcome)).toEqual(['cancelled', 'cancelled', 'cancelled', 'finished'])
  expect(built).toEqual([4])
})

test('a cancel stops the work in the worker', async () => {
  const runs: FakeRun[] = []
  const { runner } = setUp((clock) => () => {
    runs.push(new FakeRun(1e9, () => (clock.time += 1)))
    return runs[0]
  })
  const listener = new Listener()
  listener.onBlock = () => {
    if (listener.blocks.length === 3) runner.cancel()
  }
  expect(await runner.run({}, listener)).toEqual({ outcome: 'cancelled' })
  await untilStill(runs[0])
  // Left alone it would go on to the end of its computing time, 120,000 steps.
  expect(runs[0].steps).toBeLessThan(20_000)
  expect(listener.blocks).toHaveLength(3)
})

test('what is thrown inside fails that run; the next one gets a fresh worker', async () => {
  const { runner, workers } = setUp((clock) => (document) => {
    if (document === 'bad') throw new Error('a part has no length')
    return new FakeRun(0.1, () => (clock.time += 1))
  })
  const outcome = await runner.run('bad', new Listener())
  expect(sayOf(outcome)).toContain('a part has no length')
  expect(workers[0].terminated).toBe(true)
  expect(await runner.run('good', new Listener())).toEqual(finished)
  expect(workers).toHaveLength(2)
})

test('a page that cannot take a block fails its run in words', async () => {
  const { runner } = setUp(runFor(1e9))
  const listener = new Listener()
  listener.onBlock = () => {
    throw new Error('no room to draw')
  }
  expect(sayOf(await runner.run({}, listener))).toContain('no room to draw')
})

for (const type of ['error', 'messageerror'])
  test(`the worker's ${type} event fails the run`, async () => {
    const { runner, workers } = setUp(runFor(1e9))
    const listener = new Listener()
    listener.onBlock = () => workers[0].listeners.get(type)?.(new Event(type))
    expect(await runner.run({}, listener)).toMatchObject({ outcome: 'failed', state: 'worker' })
    expect(workers[0].terminated).toBe(true)
  })

test('a document that cannot be sent fails in words instead of never settling', async () => {
  const { runner } = setUp(runFor(1))
  const outcome = await runner.run({ title: () => 'a function' }, new Listener())
  expect(sayOf(outcome)).toContain('could not be cloned')
})

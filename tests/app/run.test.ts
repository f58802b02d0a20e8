import { afterEach, expect, test, vi } from 'vitest'
import { RunState } from '../../src/app/state/run.svelte'
import { Work } from '../../src/app/state/work.svelte'
import type { Outcome } from '../../src/run/outcome'
import type { Block, RunPlan } from '../../src/run/record'
import type { Summary } from '../../src/run/summary'
import type { RunListener, Runner } from '../../workers/client'

const plan: RunPlan = {
  title: '',
  duration: 2,
  tick: 1,
  channels: [],
  spans: [],
  dancers: [],
  pace: { fastestMode: 1, fastestDecay: 1 },
  events: [],
  feeds: [],
}
const summary: Summary = {
  title: '',
  spans: [],
  dancers: [],
  rollers: [],
  drives: [],
  film: { unwound: 0, wound: 0, held: 0, scrap: 0, imbalance: 0 },
  happenings: [],
  solver: { steps: 0, evaluations: 0, events: 0 },
}
const block: Block = { from: 0, count: 2, data: Float64Array.of(0, 1), lifts: [], happenings: [] }

/** A runner whose runs go just as far as the test says. */
class Hand implements Runner {
  readonly documents: unknown[] = []
  listener: RunListener = { began: () => undefined, block: () => undefined, progress: () => undefined }
  settle: (outcome: Outcome) => void = () => undefined

  run(document: unknown, listener: RunListener): Promise<Outcome> {
    this.documents.push(document)
    this.listener = listener
    return new Promise((resolve) => (this.settle = resolve))
  }

  cancel(): void {
    this.settle({ outcome: 'cancelled' })
  }

  dispose(): void {
    this.cancel()
  }
}

afterEach(() => vi.restoreAllMocks())

const settled = () => new Promise((resolve) => setTimeout(resolve))

async function finish(hand: Hand): Promise<void> {
  hand.listener.began(plan)
  hand.listener.block(block)
  hand.settle({ outcome: 'finished', summary })
  await settled()
}

test('a run goes from empty by running to finished', async () => {
  const hand = new Hand()
  const run = new RunState(hand)
  expect(run.phase).toBe('empty')
  void run.start({})
  expect(run.phase).toBe('running')
  await finish(hand)
  expect([run.phase, run.share, run.trace?.count, run.result?.summary]).toEqual(['finished', 1, 2, summary])
})

test('the finished run stays as the old one until the next is finished', async () => {
  const hand = new Hand()
  const run = new RunState(hand)
  void run.start({})
  await finish(hand)
  const first = run.trace
  void run.start({})
  expect([run.trace, run.old, run.shown]).toEqual([null, first, first])
  hand.listener.began(plan)
  expect(run.shown).toBe(first)
  hand.listener.block(block)
  expect(run.shown).toBe(run.trace)
  expect([run.trace === first, run.old === first]).toEqual([false, true])
  await finish(hand)
  expect(run.old).toBeNull()
})

test('the first block and the end are pictured at once, blocks that follow closely are not', async () => {
  const clock = vi.spyOn(performance, 'now')
  const hand = new Hand()
  const run = new RunState(hand)
  void run.start({})
  const pictures = [1000, 1050, 1099, 1100, 1150].map((now, i) => {
    clock.mockReturnValue(now)
    if (i === 0) hand.listener.began(plan)
    hand.listener.block({ ...block, from: 2 * i })
    return run.picture
  })
  expect(pictures.map((count) => count - (pictures[0] ?? 0))).toEqual([0, 0, 0, 1, 1])
  hand.settle({ outcome: 'finished', summary })
  await settled()
  expect([run.picture - (pictures[4] ?? 0), run.trace?.count]).toEqual([1, 10])
})

test('a run that was left behind says nothing any more', async () => {
  const hand = new Hand()
  const run = new RunState(hand)
  void run.start({})
  const { listener, settle } = hand
  void run.start({})
  settle({ outcome: 'cancelled' })
  listener.began(plan)
  await settled()
  expect([run.phase, run.trace]).toEqual(['running', null])
})

test('refused, failed and stopped are told apart', async () => {
  const hand = new Hand()
  const run = new RunState(hand)
  void run.start({})
  hand.settle({ outcome: 'refused', problems: [] })
  await settled()
  expect([run.phase, run.broken?.outcome]).toEqual(['refused', 'refused'])
  void run.start({})
  expect(run.broken).toBeNull()
  hand.settle({ outcome: 'failed', at: 1, state: 'dancer', say: 'It broke.' })
  await settled()
  expect(run.phase).toBe('failed')
  void run.start({})
  run.stop()
  await settled()
  expect(run.phase).toBe('stopped')
})

test('each change reruns; a value set back to its own counts as unchanged', () => {
  const hand = new Hand()
  const work = new Work(new RunState(hand))
  const document = { run: { for: '20 s' } }
  work.choose({ key: 'a', title: 'A?', about: '', document })
  work.set(['run', 'for'], '5 s')
  expect(hand.documents).toEqual([document, { run: { for: '5 s' } }])
  expect([...work.changed.keys()]).toEqual(['run/for'])
  work.set(['run', 'for'], '20 s')
  expect(work.changed.size).toBe(0)
  work.set(['run', 'tick'], '1 ms')
  work.restore(['run', 'tick'])
  expect(hand.documents.at(-1)).toEqual(document)
  work.set(['run', 'for'], '1 s')
  work.restoreAll()
  expect(hand.documents.at(-1)).toBe(document)
  expect(document).toEqual({ run: { for: '20 s' } })
})

/** Recordings laid over the work in hand: asked about where it is not sure, kept, shifted, undone. */
import { expect, test } from 'vitest'
import { recordedSignals } from '../../src/app/charts/recorded'
import type { Scene } from '../../src/app/charts/compose'
import { panels } from '../../src/app/charts/panels'
import type { Keeper } from '../../src/app/keep/keeper.svelte'
import { readTrend } from '../../src/app/keep/records'
import { MemoryStore } from '../../src/app/keep/store'
import { Recordings } from '../../src/app/state/recordings.svelte'
import { RunState } from '../../src/app/state/run.svelte'
import { firstScenario } from '../../src/app/state/scenario'
import { Work } from '../../src/app/state/work.svelte'
import { TrendReading } from '../../src/app/trend/reading.svelte'
import type { Channel } from '../../src/run/record'

const channel = (key: string, kind: Channel['kind']): Channel => {
  const [group = '', name = ''] = key.split('/')
  return { key, group: group as Channel['group'], name, kind, place: 0 }
}
const channels = [channel('tension/a → b', 'force'), channel('dancer/dancer', 'travel')]

function bench(store = new MemoryStore()) {
  const ran: unknown[] = []
  const runner = {
    run: (document: unknown) => {
      ran.push(document)
      return Promise.resolve({ outcome: 'cancelled' } as const)
    },
    cancel: () => undefined,
    dispose: () => undefined,
  }
  const work = new Work(new RunState(runner), () => 0)
  work.begin(firstScenario)
  const told: string[] = []
  const keeper = { store, attempt: (write: () => Promise<void>) => write(), say: (key: string) => told.push(key) }
  return { work, ran, told, store, recordings: new Recordings(work, keeper as unknown as Keeper, () => 1e9) }
}

const lane = { channel: 'dancer/dancer', title: 'z', values: Float64Array.of(1, 2, 3) }
const recording = { name: 'shift.csv', time: Float64Array.of(0, 1, 2), lanes: [lane] }

test('laid over, shifted, taken away: each a step that is undone, without a new run', () => {
  const { work, ran, recordings } = bench()
  const before = ran.length
  recordings.lay(recording)
  recordings.shift(0.5)
  recordings.shift(0.75)
  expect(recordings.laid).toEqual({ recording, shift: 0.75 })
  recordings.shift(NaN)
  recordings.remove()
  expect(recordings.laid).toBeNull()
  expect(work.undoes).toContain('shift.csv')
  work.undo()
  expect(recordings.laid?.shift).toBe(0.75)
  work.undo()
  expect(recordings.laid?.shift).toBe(0)
  work.undo()
  expect(recordings.laid).toBeNull()
  expect(ran.length).toBe(before)
})

test('a change of the line leaves it, another line goes without, and undo brings it back', () => {
  const { work, recordings } = bench()
  recordings.lay(recording)
  work.set(['run', 'for'], '5 s')
  expect(recordings.laid?.recording).toBe(recording)
  work.choose({ ...firstScenario, key: 'other', document: { title: 'Other', line: [] } })
  expect(recordings.laid).toBeNull()
  work.undo()
  expect(recordings.laid?.recording).toBe(recording)
})

test('after a reload it comes back from where it was kept; one that is gone is told of', async () => {
  const first = bench()
  first.recordings.lay(recording)
  const second = bench(first.store)
  second.work.resume(first.work.held, first.work.history, new Map())
  await second.recordings.fetch()
  expect(second.recordings.laid?.recording.lanes).toEqual(recording.lanes)
  const third = bench()
  third.work.resume(first.work.held, first.work.history, new Map())
  await third.recordings.fetch()
  expect([third.recordings.laid, third.told]).toEqual([null, ['recording']])
})

test('what no work refers to any more is let go of, but not at once', async () => {
  const { store, recordings } = bench()
  const record = (id: string) => ({ id, version: 1, at: 0, ...recording })
  for (const id of ['1 old', '2 used', '999999999 new']) await store.put('trend', record(id))
  await store.put('work', { id: 'w', held: { trend: { id: '2 used', shift: 0 } } } as { id: string })
  await recordings.tidy()
  expect(await store.ids('trend')).toEqual(['2 used', '999999999 new'])
})

test.each([null, {}, { version: 1, id: 'a', at: 0, name: 'x', time: [1, 2], lanes: [] }])(
  '%j is no recording',
  (raw) => {
    expect(readTrend(raw).kind).toBe('broken')
  },
)

const asked = async (text: string) => {
  const reading = new TrendReading(() => channels)
  await reading.read(new File([text], 'a.csv'))
  return reading
}

test('a table that says everything is ready at once', async () => {
  const reading = await asked('time [s];a to b [N];dancer [mm];note\n0;1,5;2;x\n1;1,6;3;y\n')
  expect([reading.stage, reading.missing]).toEqual(['asks', ''])
  const made = reading.made()
  expect(made?.lanes.map((one) => one.channel)).toEqual(['tension/a → b', 'dancer/dancer'])
  expect([...(made?.lanes[1]?.values ?? [])]).toEqual([0.002, 0.003])
})

test('what it does not say is asked: time, its unit, what a column belongs to, its unit', async () => {
  const reading = await asked('n;time;p1\n3;0;5\n1;10;6\n2;20;7\n')
  expect(reading.missing).toContain('unit the time is in')
  reading.time = { ...reading.time, unit: 'ms' }
  expect(reading.missing).toContain('belongs to')
  reading.drop(0)
  expect(reading.missing).toContain('add one')
  reading.add()
  reading.set(0, { column: 2, channel: 'dancer/dancer' })
  expect(reading.missing).toContain('unit each column')
  reading.set(0, { unit: 'mm' })
  expect(reading.missing).toBe('')
  expect([...(reading.made()?.time ?? [])]).toEqual([0, 0.01, 0.02])
  reading.add()
  reading.set(1, { column: 0, channel: 'dancer/dancer', unit: 'mm' })
  expect(reading.missing).toContain('Two columns')
})

test('a table without a time is asked for its step, and a file that is none is refused in words', async () => {
  const reading = await asked('dancer [mm]\n5\n3\n7\n')
  expect(reading.missing).toContain('which column tells the time')
  reading.time = { column: 'step', unit: '', step: 0 }
  expect(reading.missing).toContain('how long a step is')
  reading.time = { column: 'step', unit: '', step: 0.5 }
  expect([...(reading.made()?.time ?? [])]).toEqual([0, 0.5, 1])
  const refused = await asked('hello')
  expect([refused.stage, refused.refusal]).toEqual(['refused', expect.stringContaining('no rows of values')])
})

test('its signals are shifted, in shown units, and only of lines that are drawn', () => {
  const [, dancers] = panels
  if (!dancers) throw new Error('no chart of dancers')
  const scene = { recording: { recording, shift: 2 }, measure: 'force', trace: null, old: null } as unknown as Scene
  const style = { colour: '', width: 1, dash: [], tone: '' }
  const line = { channel: channels[1] ?? channel('dancer/dancer', 'travel'), index: 0, style }
  const [signal] = recordedSignals(dancers, scene, [line], 1000)
  expect([...(signal?.time ?? [])]).toEqual([2, 3, 4])
  expect(signal?.factor).toBe(1000)
  expect(recordedSignals(dancers, scene, [], 1000)).toEqual([])
})

/** A recording stays with the line that it was kept with, and so does what closed tabs have left. */
import { expect, test } from 'vitest'
import { mostPins, Pins } from '../../src/app/compare/pins.svelte'
import { OwnLines, scenarioOf } from '../../src/app/keep/own.svelte'
import { readOwn, readWork, type WorkRecord } from '../../src/app/keep/records'
import { noHistory } from '../../src/app/state/history'
import { takeLeft } from '../../src/app/state/left'
import { Recordings } from '../../src/app/state/recordings.svelte'
import { RunState } from '../../src/app/state/run.svelte'
import { firstScenario } from '../../src/app/state/scenario'
import { Work } from '../../src/app/state/work.svelte'
import { browser, content, document, Locks } from './tab'

const runner = {
  run: () => Promise.resolve({ outcome: 'cancelled' } as const),
  cancel: () => undefined,
  dispose: () => undefined,
}
const hours = 3_600_000
const lane = { channel: 'dancer/dancer', title: 'z', values: Float64Array.of(1, 2, 3) }
const recording = { name: 'shift.csv', time: Float64Array.of(0, 1, 2), lanes: [lane] }

/** Tabs of one browser, with the work in hand. */
function desks() {
  const { tab, drawer } = browser(new Locks())
  const clock = { now: 1000 * hours }
  const now = () => clock.now
  return {
    drawer,
    clock,
    desk: async () => {
      const { keeper } = tab()
      await keeper.begin()
      const work = new Work(new RunState(runner), now)
      work.begin(firstScenario)
      return { keeper, work, own: new OwnLines(keeper, now), recordings: new Recordings(work, keeper, now) }
    },
  }
}
type Desk = Awaited<ReturnType<ReturnType<typeof desks>['desk']>>

/** As "Keep a copy" does. */
const keepCopy = ({ own, work }: Desk) => own.add('Mine', work.document, work.held.trend)

async function keptWithRecording() {
  const all = desks()
  const desk = await all.desk()
  desk.recordings.lay(recording)
  desk.recordings.shift(0.5)
  await keepCopy(desk)
  return { ...all, first: desk }
}

test('a line kept with a recording over it brings it along, days later in another tab, though no work refers to it', async () => {
  const { desk, clock, drawer } = await keptWithRecording()
  clock.now += 100 * hours
  const { own, work, recordings } = await desk()
  await own.read()
  await recordings.tidy()
  expect((await drawer.ids('trend')).length).toBe(1)
  const [line] = own.list
  if (!line) throw new Error('Nothing was kept.')
  work.choose(scenarioOf(line), line.trend)
  await recordings.fetch()
  expect(recordings.laid).toEqual({ recording: expect.objectContaining(recording) as unknown, shift: 0.5 })
  work.undo()
  expect(recordings.laid).toBeNull()
  work.redo()
  expect(recordings.laid?.shift).toBe(0.5)
})

test('a newcomer who begins with such a line has the recording too', async () => {
  const { desk } = await keptWithRecording()
  const { own, work, recordings } = await desk()
  await own.read()
  const [line] = own.list
  if (line) work.begin(scenarioOf(line), line.trend)
  await recordings.fetch()
  expect([recordings.laid?.shift, work.undoes]).toEqual([0.5, ''])
})

test('renamed and duplicated it keeps the recording; deleted, until it can no longer be put back', async () => {
  const { first, clock, drawer } = await keptWithRecording()
  const { own, work, recordings } = first
  const [line] = own.list
  if (line) await own.rename(line, 'Yours')
  const [renamed] = own.list
  if (renamed) await own.add(renamed.name, renamed.document, renamed.trend)
  const laid = work.held.trend
  expect(own.list.map(({ trend }) => trend)).toEqual([laid, laid])
  clock.now += 25 * hours
  work.begin(firstScenario)
  work.resume(work.held, noHistory, new Map())
  for (const one of own.list) await own.remove(one)
  await recordings.tidy(own.deleted)
  expect(await drawer.ids('trend')).toEqual([laid?.id])
  await recordings.tidy()
  expect(await drawer.ids('trend')).toEqual([])
})

test('what is in hand, or can be undone, keeps its recording even where the work itself could not be kept', async () => {
  const { first, clock, drawer } = await keptWithRecording()
  const { own, work, recordings } = first
  for (const one of own.list) await own.remove(one)
  clock.now += 25 * hours
  await recordings.tidy()
  work.choose({ ...firstScenario, key: 'other' })
  await recordings.tidy()
  expect((await drawer.ids('trend')).length).toBe(1)
})

test('a line kept before recordings were kept with it still reads; one with half a recording is broken', () => {
  const before = { version: 1, id: 'a', at: 0, name: 'Mine', document }
  expect(readOwn(before)).toEqual({ kind: 'good', record: before })
  expect(readOwn({ ...before, trend: { id: 'x', shift: 0.5 } }).kind).toBe('good')
  expect(readOwn({ ...before, trend: { id: 'x' } }).kind).toBe('broken')
  expect(readOwn({ ...before, trend: { id: 'x', shift: NaN } }).kind).toBe('broken')
})

const trend = { id: 'x', shift: 0.5 }

/** What a tab left: a changed line with a recording over it, two pinned runs, something half typed. */
function leftRecord(): WorkRecord {
  const { held, ...others } = content('5 s')
  const pins = ['as it came', 'longer'].map((name, i) => ({ id: `p${i}`, name, held }))
  const entries = [['run/for', '5']] as const
  const record = { ...others, held: { ...held, trend }, pins, entries, version: 1, id: 'left', at: 0 }
  const reading = readWork(record)
  if (reading.kind !== 'good') throw new Error('not as it is kept')
  return reading.record
}

function present() {
  const work = new Work(new RunState(runner), () => 0)
  work.begin(firstScenario)
  return { work, pins: new Pins(() => runner) }
}

test('what a closed tab left comes back whole where nothing would be missed of what is in hand', () => {
  const { work, pins } = present()
  const record = leftRecord()
  expect(takeLeft(record, work, pins)).toEqual([])
  expect([work.held, work.undoes, [...work.entries]]).toEqual([record.held, 'run length', record.entries])
  expect(pins.records).toEqual(record.pins)
  work.undo()
  expect(work.document).toBe(record.held.chosen?.document)
})

test('else it is one step from there, with its recording and its pinned runs, and undo leads back', () => {
  const { work, pins } = present()
  work.set(['run', 'for'], '7 s')
  const before = work.held
  const record = leftRecord()
  expect(takeLeft(record, work, pins)).toEqual([])
  expect([work.held, work.undoes]).toEqual([record.held, 'opening “A?”'])
  expect([...work.changed.keys()]).toEqual(['run/for'])
  work.undo()
  expect(work.held).toBe(before)
})

test('pinned runs come beside those that are here, named apart, none twice, as many as there is room for', () => {
  const { work, pins } = present()
  const record = leftRecord()
  pins.restore(['as it came', 'second', 'third'].map((name) => ({ id: name, name, held: work.held })))
  expect(takeLeft(record, work, pins)).toEqual(['longer'])
  expect(pins.list.map(({ name, mark }) => [name, mark])).toEqual([
    ['as it came', 0],
    ['second', 1],
    ['third', 2],
    ['as it came (2)', 3],
  ])
  pins.remove('second')
  expect(takeLeft(record, work, pins)).toEqual([])
  expect(pins.list.map(({ id, mark }) => [id, mark])).toEqual([
    ['as it came', 0],
    ['third', 2],
    ['p0', 3],
    ['p1', 1],
  ])
  expect(pins.list.length).toBe(mostPins)
})

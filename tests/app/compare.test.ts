import { expect, test } from 'vitest'
import { changesBetween } from '../../src/app/compare/changes'
import { byPart, figureRows, isOther } from '../../src/app/compare/figures'
import { letterOf, mostPins, pinRefusal, Pins } from '../../src/app/compare/pins.svelte'
import { pinnedAt, pinnedLines } from '../../src/app/charts/pinned'
import { columnsOf, signalsOf } from '../../src/app/charts/columns'
import type { Scene } from '../../src/app/charts/compose'
import type { Measure } from '../../src/app/shown'
import { withValue, type Json } from '../../src/app/state/document'
import { firstScenario } from '../../src/app/state/scenario'
import { Trace } from '../../src/app/state/trace'
import type { Block, RunPlan } from '../../src/run/record'
import type { Summary } from '../../src/run/summary'
import type { Runner } from '../../workers/client'

const channel = (name: string) => ({ key: `dancer/${name}`, group: 'dancer', name, kind: 'travel', place: 0 }) as const

const plan: RunPlan = {
  title: '',
  duration: 2,
  tick: 1,
  channels: [channel('a'), channel('b')],
  spans: [],
  dancers: [],
  pace: { fastestMode: 1, fastestDecay: 1 },
  events: [],
  feeds: [],
}
const block: Block = { from: 0, count: 3, data: Float64Array.of(0, 1, 2, 5, 6, 7, 8, 8, 8), lifts: [], happenings: [] }

function summary(greatest: number, travelUsed: number, margin: number | null): Summary {
  const tension = { start: 1, end: 1, min: 1, max: greatest, atMin: 0, atMax: 1 }
  return {
    title: '',
    spans: [{ name: 'a → b', tension, limitShare: greatest / 100, limitAt: 1, slackSeconds: 0 }],
    dancers: [
      { name: 'd', start: 0, end: 0, min: 0, max: 0, atMin: 0, atMax: 0, travelUsed, stopSeconds: 0, ripple: 0 },
    ],
    rollers: [{ name: 'r', tractionMargin: margin, at: 0 }],
    drives: [{ name: 'm', peakTorque: 2, peakAt: 0, limitShare: null }],
    film: { unwound: 0, wound: 0, held: 0, scrap: 0.05, imbalance: 0 },
    happenings: [],
    solver: { steps: 0, evaluations: 0, events: 0 },
  }
}

function finished(document: Json, told = summary(10, 0.5, 0.4)) {
  const trace = new Trace(plan, document)
  trace.append(block)
  trace.complete = true
  return { trace, result: { summary: told, plan } }
}

/** Runs of one document with what came of each. */
const ran = (...told: Summary[]) => told.map((one) => finished(null, one))

const document = {
  title: 'A?',
  line: [{ part: 'dancer', name: 'infeed dancer', stiffness: '0 N/m' }],
  stage: [
    { at: '3 s', do: 'stop' },
    { at: '6 s', do: 'start' },
  ],
}
const held = { chosen: null, document }

/** Answers every run with a finished one, and counts how many go on at once. */
function runners() {
  const seen = { documents: [] as unknown[], open: 0 }
  const open = (): Runner => {
    seen.open++
    return {
      run: (ran, listener) => {
        seen.documents.push(ran)
        if (ran === null) return Promise.resolve({ outcome: 'refused' as const, problems: [] })
        listener.began(plan)
        listener.block(block)
        return Promise.resolve({ outcome: 'finished' as const, summary: summary(10, 0.5, 0.4) })
      },
      cancel: () => undefined,
      dispose: () => seen.open--,
    }
  }
  return { seen, open }
}

test('figures that differ are told from those that are alike', () => {
  const rows = figureRows(ran(summary(12, 0.5, 0.4), summary(10, 0.5, null)), 'force')
  const differing = rows.filter(({ differs }) => differs)
  expect(differing.map(({ figure: { part, what }, values }) => [part, what, ...values])).toEqual([
    ['a → b', 'greatest', 12, 10],
    ['a → b', 'share of the limit', 0.12, 0.1],
    ['r', 'least margin', 0.4, undefined],
  ])
  expect(byPart(rows).map(({ part }) => part)).toEqual(['a → b', 'd', 'm', 'whole line', 'r'])
})

test('runs of one document have no figure that differs', () => {
  expect(figureRows(ran(summary(12, 0.5, 0.4), summary(12, 0.5, 0.4)), 'force').some(({ differs }) => differs)).toBe(
    false,
  )
})

test('tension is compared in the measure that is read, each run with its own film', () => {
  const channels = [{ key: 'tension/a → b', group: 'tension', name: 'a → b', kind: 'force', place: 0 } as const]
  const ofWidth = (width: string) => {
    const elasticTension = 4.5e9 * 36e-6 * Number.parseFloat(width) * 1e-3 * 0.005
    const spans = [{ name: 'a → b', elasticTension, most: 136, least: 20 }]
    const trace = new Trace(
      { ...plan, spans, channels },
      withValue(firstScenario.document, ['films', 'A', 'width'], width),
    )
    trace.append({ ...block, data: Float64Array.of(0, 1, 2, 1, 12, 1) })
    return { trace, result: { summary: summary(12, 0.5, 0.4), plan: trace.plan } }
  }
  const greatest = (measure: Measure, ...widths: string[]) => {
    const [row] = figureRows(widths.map(ofWidth), measure)
    return { kind: row?.figure.kind, values: row?.values, differs: row?.differs }
  }
  expect(greatest('force', '400 mm', '480 mm')).toEqual({ kind: 'force', values: [12, 12], differs: false })
  const perWidth = greatest('forcePerWidth', '400 mm', '480 mm')
  expect(perWidth).toMatchObject({ kind: 'forcePerWidth', differs: true })
  expect(perWidth.values?.[0]).toBeCloseTo(30, 9)
  expect(perWidth.values?.[1]).toBeCloseTo(25, 9)
  // A hundredth of a per cent and less: a strain is small, and yet not nothing.
  const strain = greatest('strain', '400 mm', '480 mm')
  expect(strain.values?.[0]).toBeCloseTo(12 / (4.5e9 * 36e-6 * 0.4), 9)
  expect(strain.differs).toBe(true)
  expect(greatest('strain', '400 mm', '400 mm').differs).toBe(false)
})

test.each([
  [100, 100.1, false],
  [100, 101, true],
  [0, 5e-5, false],
  [0, 1e-3, true],
  [undefined, undefined, false],
  [1, undefined, true],
])('%s beside %s differs: %s', (a, b, differs) => {
  const [share] = figureRows(ran(summary(1, 0, null)), 'force').filter(({ figure }) => figure.kind === 'share')
  if (!share) throw new Error('no share among the figures')
  expect([isOther(share.figure, a, b), isOther(share.figure, b, a)]).toEqual([differs, differs])
})

test('what differs is named in words, old and new; titles are not what a line does', () => {
  const after = {
    title: 'B?',
    line: [{ part: 'dancer', name: 'infeed dancer', stiffness: '40 N/m', mass: '4 kg' }],
    stage: [{ at: '3 s', do: 'stop' }],
  }
  expect(changesBetween(document, after).map(({ where, before, after: now }) => [where, before, now])).toEqual([
    ['infeed dancer stiffness', '0 N/m', '40 N/m'],
    ['infeed dancer mass', 'none', '4 kg'],
    ['start', 'at 6 s, do start', 'none'],
  ])
  const twice = { ...document, stage: [...document.stage, ...document.stage, { at: '9 s', do: 'stop' }] }
  const keys = changesBetween(document, twice).map(({ key }) => key)
  expect(new Set(keys).size).toBe(keys.length)
})

test('up to four runs are pinned, each with a letter of its own, which is free again when it is unpinned', () => {
  const pins = new Pins(runners().open)
  const runs = [0, 1, 2, 3].map(() => finished(document))
  runs.forEach((run, i) => pins.add(`${i}`, `run ${i}`, held, run))
  expect(pins.list.map(letterOf).join('')).toBe('ABCD')
  expect(pinRefusal(pins.list, finished(document))).toContain(`${mostPins}`)
  pins.remove('1')
  expect(pinRefusal(pins.list, finished(document))).toBe('')
  pins.add('5', 'again', held, finished(document))
  expect(pins.list.map(letterOf).join('')).toBe('ACDB')
  pins.rename('5', 'better')
  expect(pins.records.map(({ name }) => name)).toEqual(['run 0', 'run 2', 'run 3', 'better'])
})

test('what cannot be pinned says why', () => {
  const run = finished(document)
  const pins = new Pins(runners().open)
  expect(pinRefusal([], null)).toContain('finished')
  pins.add('1', 'one', held, run)
  expect(pinRefusal(pins.list, run)).toContain('already')
  const long = new Trace({ ...plan, channels: Array.from({ length: 20_000 }, () => channel('a')) })
  long.complete = true
  long.count = 1000
  expect(pinRefusal([], { ...run, trace: long })).toContain('too long')
})

test('pins that were kept are computed again, one after the other, and what cannot be run says so', async () => {
  const { seen, open } = runners()
  const pins = new Pins(open)
  const broken = { chosen: null, document: null }
  pins.restore([
    { id: '1', name: 'one', held },
    { id: '2', name: 'two', held: broken },
    { id: '3', name: 'three', held },
  ])
  await Promise.all([pins.compute(), pins.compute()])
  expect(seen).toEqual({ documents: [document, null, document], open: 0 })
  expect(pins.list.map(({ run, lost }) => [run?.trace.count, lost !== ''])).toEqual([
    [3, false],
    [undefined, true],
    [3, false],
  ])
  await pins.compute()
  expect(seen.documents.length).toBe(3)
})

test('of pinned runs the lines that stand out are drawn, and read at the cursor', () => {
  const { trace } = finished(document)
  const scene = { pins: [{ letter: 'B', mark: 1, trace }], strong: new Set(['dancer/a']) } as unknown as Scene
  const style = { colour: '', width: 1, dash: [], tone: '' }
  const lines = trace.group('dancer').map((numbered) => ({ ...numbered, style }))
  const panel = { id: 'dancer travel', group: 'dancer', title: '', kind: 'travel', lines: '' } as const
  const signal = signalsOf(columnsOf(panel, 'force'), 1000)
  const two = pinnedLines(scene, lines, signal)
  expect(two.map(({ letter, signal: { index, factor } }) => [letter, index, factor])).toEqual([
    ['B', 0, 1000],
    ['B', 1, 1000],
  ])
  const many = pinnedLines(scene, [...lines, ...lines, ...lines], signal)
  expect(many.map(({ signal }) => signal.index)).toEqual([0])
  expect(
    pinnedAt(scene, 'dancer/a', 1.5).map(({ letter, index, sample }) => [letter, trace.values(index)[sample]]),
  ).toEqual([['B', 6]])
  expect(pinnedAt(scene, 'dancer/of another line', 1.5)).toEqual([])
})

/** What is given away: traces as a table, charts as drawings, settings of a report. */
import { expect, test } from 'vitest'
import { compose, type Scene } from '../../src/app/charts/compose'
import { panels } from '../../src/app/charts/panels'
import type { Palette } from '../../src/app/charts/picture'
import { strongKeys } from '../../src/app/charts/strong'
import { chartFigure, figureWidth } from '../../src/app/give/chart-figure'
import { csvOf } from '../../src/app/give/traces-csv'
import { illustrated, settingGroups, stagedEvents } from '../../src/app/pages/report/settings'
import { at, pathText, type Json, type Path } from '../../src/app/state/document'
import { gallery } from '../../src/app/state/gallery'
import { Trace } from '../../src/app/state/trace'
import { guessChannel } from '../../src/app/trend/recording'
import { TableReader } from '../../src/app/trend/table'
import type { Channel, RunPlan } from '../../src/run/record'

const channels: readonly Channel[] = [
  { key: 'tension/a → b', group: 'tension', name: 'a → b', kind: 'force', place: 0 },
  { key: 'dancer/d', group: 'dancer', name: 'd', kind: 'travel', place: 1 },
  { key: 'speed/a', group: 'speed', name: 'a', kind: 'speed', place: 0 },
]
const plan: RunPlan = {
  title: '',
  duration: 30,
  tick: 0.01,
  channels,
  spans: [{ name: 'a → b', elasticTension: 100, most: 40, least: 5 }],
  dancers: [{ name: 'd', lowerStop: -0.1, upperStop: 0.1, setPoint: 0 }],
  pace: { fastestMode: 1, fastestDecay: 1 },
  events: [{ at: 10, name: 'splice' }],
  feeds: [],
}

function traceOf(count = 3001): Trace {
  const trace = new Trace(plan)
  const data = new Float64Array(4 * count)
  for (let i = 0; i < count; i++) {
    data[i] = i * 0.01
    data[count + i] = 30 + Math.sin(i / 100)
    data[2 * count + i] = -0.05 * Math.cos(i / 200)
    data[3 * count + i] = i < 1000 ? 0.1 : 0.2
  }
  trace.append({ from: 0, count, data, lifts: [1000], happenings: [] })
  return trace
}

const tableOf = (text: string) => {
  const reader = new TableReader()
  reader.feed(text)
  const tabled = reader.end()
  if (!tabled.ok) throw new Error(tabled.say)
  return tabled.table
}

test.each(['metric', 'inch'] as const)(
  'traces as a table, %s, read back as they were, each known by its head',
  (system) => {
    const trace = traceOf()
    const table = tableOf([...csvOf(trace, system)].join(''))
    expect([table.rows, table.passedOver]).toEqual([3001, 0])
    for (const [k, { title, unit }] of table.columns.entries()) {
      if (k === 0) expect([title, unit]).toEqual(['time', 's'])
      else expect(guessChannel(title, unit, channels)?.key).toBe(channels[k - 1]?.key)
    }
    const dancer = table.columns[2]
    const perMetre = system === 'metric' ? 1000 : 1000 / 25.4
    expect(dancer?.values[0]).toBeCloseTo(-0.05 * perMetre, 4)
  },
)

test('no cell begins with what a spreadsheet takes for a formula, but the sign of a number', () => {
  const hostile = channels.map((channel, k) => ({ ...channel, key: `${'=+-@'.charAt(k)}cmd|' /C calc'!A0, "x"` }))
  const trace = new Trace({ ...plan, channels: hostile })
  trace.append({ from: 0, count: 1, data: Float64Array.of(0, -1.5, NaN, -2e-9), lifts: [], happenings: [] })
  const [head = '', row = ''] = [...csvOf(trace, 'metric')].join('').split('\n')
  expect(head).not.toMatch(/(^|,)"?[=+\-@]/)
  expect(row).toBe('0,-1.5,,-1.2e-7')
})

const palette = new Proxy({} as Palette, {
  get: (_, name) => (name === 'share' ? Array.from({ length: 6 }, (_one, k) => `share ${k}`) : String(name)),
})

function sceneOf(trace: Trace): Scene {
  return {
    trace,
    old: null,
    pins: [],
    recording: {
      recording: {
        name: 'r',
        time: Float64Array.of(0, 10, 20),
        lanes: [{ channel: 'tension/a → b', title: 'F', values: Float64Array.of(28, 33, 29) }],
      },
      shift: 1,
    },
    result: null,
    system: 'metric',
    measure: 'force',
    window: { min: 0, max: 30 },
    hidden: new Set(),
    strong: strongKeys(channels, 'a → b', ''),
    span: 'a → b',
    reach: {},
    palette,
  }
}

test('a chart as a drawing: traces, limits with their names, the recording in its dash, all inside the sheet', () => {
  const [tension, dancer] = panels
  if (!tension || !dancer) throw new Error('no charts')
  const scene = sceneOf(traceOf())
  for (const panel of [tension, dancer]) {
    const { strokes, texts, axes, frame } = chartFigure(compose(panel, scene), palette, 300)
    const all = [...strokes, ...axes].map(({ d }) => d).join('')
    expect(all).not.toMatch(/NaN|Infinity|undefined/)
    for (const { x, y } of texts) {
      expect(x).toBeGreaterThanOrEqual(0)
      expect(x).toBeLessThanOrEqual(figureWidth)
      expect(y).toBeLessThanOrEqual(300)
    }
    expect(frame.width).toBeGreaterThan(800)
  }
  const { strokes, texts } = chartFigure(compose(tension, scene), palette, 300)
  const said = texts.map(({ text }) => text).join('; ')
  for (const name of ['elastic limit 100 N', 'band, most 40.0 N', 'band, least 5.00 N', 'recorded', '30 s']) {
    expect(said).toContain(name)
  }
  // Its dash, and the trace lifts its pen at the jump.
  expect(strokes.some(({ dash, stroke }) => dash === '5.6 2.1' && stroke === 'ink')).toBe(true)
  expect(strokes.find(({ stroke, fill }) => stroke === 'share 1' && fill === 'none')?.d.match(/M/g)?.length).toBe(2)
})

test('which lines stand out: the span, the roller it begins at or the one pointed at, and dancers', () => {
  expect([...strongKeys(channels, 'a → b', '')]).toEqual(['tension/a → b', 'speed/a', 'dancer/d'])
  const other = { key: 'speed/c', group: 'speed', name: 'c', kind: 'speed', place: 2 } as const
  const pointedAt = strongKeys([...channels, other], 'a → b', 'speed/c')
  expect([pointedAt.has('speed/c'), pointedAt.has('speed/a')]).toEqual([true, false])
  // One without a trace of its own, such as an air bar, leaves things as they are.
  expect(strongKeys(channels, 'a → b', 'speed/bar')).toEqual(strongKeys(channels, 'a → b', ''))
})

/** Paths of all single values but those that a title is made of. */
function leaves(value: Json, path: Path = []): Path[] {
  if (typeof value !== 'object' || value === null || Array.isArray(value)) return [path]
  return Object.entries(value).flatMap(([key, item]) => leaves(item, [...path, key]))
}

test('every setting that a scenario states stands in the report, with its unit', () => {
  expect(gallery.length).toBeGreaterThan(10)
  for (const { document } of gallery) {
    const groups = settingGroups({ document, changed: new Set(), system: 'metric' })
    const keys = new Set(groups.flatMap(({ settings }) => settings.map(({ key }) => key)))
    const line = at(document, ['line'])
    if (!Array.isArray(line)) throw new Error('no line')
    for (const [k, part] of (line as readonly Json[]).entries()) {
      for (const path of leaves(part)) {
        if (path[0] !== 'name' && path[0] !== 'part') expect(keys).toContain(pathText(['line', k, ...path]))
      }
    }
    expect(groups.some(({ key }) => key.startsWith('films/'))).toBe(true)
    expect(groups.flatMap(({ settings }) => settings.map(({ text }) => text)).join()).not.toMatch(/undefined|\[object/)
  }
})

test('what is staged is told in the order of the scenario, and what only illustrates is told once', () => {
  const document = gallery.find(({ key }) => key === 'zero-speed-splice')?.document ?? null
  const given = { document, changed: new Set(['line/0/drag']), system: 'metric' as const }
  const [event] = stagedEvents(given)
  expect(event).toMatchObject({ title: 'Zero-speed splice', at: '3 s' })
  expect(event?.text).toMatch(/hold 1.2 s/)
  const groups = settingGroups(given)
  const told = illustrated(groups).map(({ what }) => what)
  expect(told.length).toBeGreaterThan(2)
  expect(new Set(told).size).toBe(told.length)
  const marked = groups.flatMap(({ settings }) => settings.filter(({ changed }) => changed).map(({ key }) => key))
  expect(marked).toEqual(['line/0/drag'])
})

import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { captionsOf } from '../../src/app/drawing/captions'
import { film, spansOf } from '../../src/app/drawing/film'
import { elevation, toPixels } from '../../src/app/drawing/fit'
import { factsOf, itemsOf, keyOf, kindOf } from '../../src/app/drawing/items'
import { keptLine, lineOf } from '../../src/app/drawing/line'
import { nearestItem } from '../../src/app/drawing/nearest'
import { readingsAt } from '../../src/app/drawing/readings'
import { Turning } from '../../src/app/drawing/turning'
import { Trace } from '../../src/app/state/trace'
import type { Channel, ChannelGroup, RunPlan } from '../../src/run/record'

/** A shipped line with two dancers and a bar. */
const line = lineOf(JSON.parse(readFileSync('scenarios/start-stop.json', 'utf8')))
if (!line) throw new Error('scenarios/start-stop.json cannot be drawn.')
const spans = spansOf(line.wheels)
const items = itemsOf(line.wheels, spans)
const size = { width: 640, height: 220 }
const drawn = elevation(line, size)
const strung = film(drawn.layout.map(({ circle }) => circle))

const channel = (group: ChannelGroup, name: string, kind: Channel['kind']): Channel => {
  return { key: `${group}/${name}`, group, name, kind, place: 0 }
}

/** Tension of two spans, a dancer, a roller and a roll at 0 s and 1 s. */
function recorded(): Trace {
  const [first, second] = spans
  const plan: RunPlan = {
    title: '',
    duration: 1,
    tick: 1,
    channels: [
      channel('tension', first?.name ?? '', 'force'),
      channel('tension', second?.name ?? '', 'force'),
      channel('dancer', 'infeed dancer', 'travel'),
      channel('speed', 'idler 1', 'speed'),
      channel('radius', 'unwind', 'diameter'),
    ],
    spans: [first, second].map((span) => ({ name: span?.name ?? '', elasticTension: 200, most: 80, least: 10 })),
    dancers: [],
    pace: { fastestMode: 1, fastestDecay: 1 },
    events: [],
    feeds: [],
  }
  const trace = new Trace(plan)
  const data = Float64Array.of(0, 1, 40, 250, 60, 0, 0.01, -0.02, 0.4, 0.8, 0.19, 0.18)
  trace.append({ from: 0, count: 2, data, lifts: [], happenings: [] })
  return trace
}

test('the record is read at the sample before an instant, or at it', () => {
  const trace = recorded()
  const [before, at] = [readingsAt(trace, line, 0.99), readingsAt(trace, line, 1)]
  expect(before.spans.map(({ share, slack }) => [share, slack])).toEqual([
    [0.2, false],
    [0.3, false],
  ])
  expect(before.worst?.name).toBe(spans[1]?.name)
  expect(at.spans.map(({ share, slack }) => [share, slack])).toEqual([
    [1.25, false],
    [0, true],
  ])
  expect(at.worst?.name).toBe(spans[0]?.name)
  expect([...at.pose.positions]).toEqual([['infeed dancer', -0.02]])
  expect([...at.pose.radii]).toEqual([['unwind', 0.18]])
})

test('before the first sample there is nothing to read, and nothing strained most', () => {
  const empty = readingsAt(null, line, 0)
  expect([empty.spans, empty.worst, empty.value('speed/idler 1')]).toEqual([[], undefined, undefined])
})

test('parts stand in the order of the film, a bar within its span', () => {
  const names = items.map(({ name }) => name)
  expect(names.slice(0, 3)).toEqual(['unwind', 'unwind → idler 1', 'idler 1'])
  expect(names.at(-1)).toBe('rewind')
  const bar = names.indexOf('air bar')
  expect(names.slice(bar - 1, bar + 2)).toEqual(['idler 5 → idler 6', 'air bar', 'idler 6'])
  expect(items.map(keyOf).slice(0, 2)).toEqual(['speed/unwind', 'tension/unwind → idler 1'])
  const [nip, air] = ['print nip', 'air bar'].map((name) => items.find((item) => item.name === name))
  expect(nip && kindOf(nip)).toBe('driven nip')
  expect(air && keyOf(air)).toBeNull()
})

test('what is told of a part is what the record says of it', () => {
  const readings = readingsAt(recorded(), line, 1)
  const told = (name: string) => {
    const item = items.find((one) => one.name === name)
    return item ? factsOf(item, readings, 'metric').map(({ name: fact, text }) => `${fact} ${text}`.trim()) : []
  }
  expect(told('unwind → idler 1')).toEqual(['tension 250.0 N', 'of elastic limit 125 %', 'past the limit'])
  expect(told('idler 1')).toEqual(['surface speed 48.00 m/min', 'tension 250.0 N → 0.0 N'])
  expect(told('infeed dancer')).toEqual(['position −20.0 mm'])
  expect(told('air bar')).toEqual([])
})

describe('a pointer', () => {
  const at = (name: string) => items.findIndex((item) => item.name === name)

  test('on any roller means that roller, in the middle of a straight its span', () => {
    strung.circles.forEach((circle, i) => {
      const found = nearestItem(toPixels(drawn.frame, circle), items, strung, drawn.frame)
      expect(found).toBe(at(line.wheels[i]?.name ?? ''))
    })
    const straight = strung.straights[7]
    if (!straight) throw new Error('The line has too few straights.')
    const { from, to } = straight
    const middle = toPixels(drawn.frame, { x: (from.x + to.x) / 2, y: (from.y + to.y) / 2 })
    expect(nearestItem(middle, items, strung, drawn.frame)).toBe(at('idler 5 → idler 6'))
  })

  test('far from everything means nothing', () => {
    expect(nearestItem({ x: -500, y: -500 }, items, strung, drawn.frame)).toBeNull()
  })
})

test.each([
  [640, 220],
  [640, 160],
  [280, 200],
])('labels in %i x %i cover neither each other nor the edge, and name dancers and rolls', (width, height) => {
  const box = { width, height }
  const fitted = elevation(line, box)
  const { names, shares } = captionsOf(fitted, film(fitted.layout.map(({ circle }) => circle)), spans, box)
  const all = [...names.values(), ...shares.values()]
  for (const [i, a] of all.entries()) {
    expect(a.left >= 0 && a.top >= 0 && a.left + a.width <= width && a.top + a.height <= height).toBe(true)
    for (const b of all.slice(i + 1)) {
      const apart =
        a.left + a.width <= b.left ||
        b.left + b.width <= a.left ||
        a.top + a.height <= b.top ||
        b.top + b.height <= a.top
      expect(apart).toBe(true)
    }
  }
  if (width > 600)
    expect(line.wheels.flatMap(({ kind }, i) => (kind === 'dancer' && !names.has(i) ? [i] : []))).toEqual([])
})

test('a roller turns by the film that ran over its radius, to the side that the film turns it', () => {
  const { layout } = drawn
  const i = line.wheels.findIndex(({ name }) => name === 'idler 1')
  const [start, end] = [0, 1].map((time) => new Turning(recorded(), layout).at(time)[i])
  expect(start).toBe(0)
  expect(end).toBeCloseTo(((0.4 + 0.8) / 2 / 0.04) * (line.wheels[i]?.side ?? NaN), 9)
})

test('a line drawn alike stays the one it was, so that nothing is laid out again; one that differs does not', () => {
  const text = readFileSync('scenarios/start-stop.json', 'utf8')
  const stiffer = text.replace(/"stiffness": "[^"]*"/, '"stiffness": "123 N/m"')
  expect(stiffer).not.toBe(text)
  const before = lineOf(JSON.parse(text))
  expect(keptLine(before, lineOf(JSON.parse(stiffer)))).toBe(before)
  const longer = lineOf(JSON.parse(text.replace(/"length": "(\d+) mm"/, '"length": "9$1 mm"')))
  expect(longer).not.toEqual(before)
  expect(keptLine(before, longer)).toBe(longer)
  expect(keptLine(before, undefined)).toBeUndefined()
})

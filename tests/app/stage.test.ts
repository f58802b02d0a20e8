/** Staging: events moved, added and taken out in the document, and what each line is offered. */
import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { cornerMoved, cornersOf, roundedTo, speedStep } from '../../src/app/stage/corners'
import { curvesOf, topOf } from '../../src/app/stage/curves'
import { added, copied, eventsOf, moved, removed, sorted, stagedOf, timeOf } from '../../src/app/stage/events'
import { fieldSets } from '../../src/app/stage/fields'
import { lanesOf, least } from '../../src/app/stage/lanes'
import { eventAt, offersOf } from '../../src/app/stage/offers'
import { freeTime, snapped } from '../../src/app/stage/times'
import { at, withValue, type Json } from '../../src/app/state/document'
import { readDocument } from '../../src/scenario/read'

const folder = join(import.meta.dirname, '../../scenarios')
const open = (name: string) => JSON.parse(readFileSync(join(folder, name), 'utf8')) as Json
const names = readdirSync(folder).filter((name) => name.endsWith('.json'))
const splice = open('zero-speed-splice.json')
const staged = (...events: Json[]): Json => withValue(splice, ['stage'], events)
const stop = (time: string): Json => ({ do: 'stop', at: time, in: '2 s' })
const start = (time: string): Json => ({ do: 'start', at: time, to: '6 m/min', in: '3 s' })
const draw = (time: string): Json => ({ do: 'draw', at: time, roller: 'print nip', to: '0.05 %', in: '1 s' })

describe('events in the document', () => {
  test('a moved event keeps its unit, and its place by time', () => {
    const edit = moved(staged(stop('2 s'), draw('9000 ms')), 1, 1.25)
    expect(eventsOf(edit.document).map((event) => at(event, ['at']))).toEqual(['1250 ms', '2 s'])
    expect(edit.index).toBe(0)
    expect(edit.order).toEqual([1, 0])
  })

  test('events of the same time keep their order; one without a readable time stays behind its neighbour', () => {
    const document = staged(draw('3 s'), draw('soon'), stop('1 s'), start('3 s'))
    expect(sorted(document).order).toEqual([2, 0, 1, 3])
    const same = staged(stop('1 s'), draw('1 s'))
    expect(sorted(same).document).toBe(same)
  })

  test('whatever is moved where: none is lost, none changes but in its time, all stand in order', () => {
    const times = fc.array(fc.integer({ min: 0, max: 2400 }), { minLength: 1, maxLength: 12 })
    fc.assert(
      fc.property(times, fc.nat(), fc.integer({ min: 0, max: 2400 }), (ticks, pick, to) => {
        const document = sorted(
          staged(...ticks.map((tick, k) => withValue(draw(`${tick / 100} s`), ['mark'], k))),
        ).document
        const index = pick % ticks.length
        const edit = moved(document, index, to / 100)
        const marks = (d: Json) => eventsOf(d).map((event) => at(event, ['mark']))
        expect([...marks(edit.document)].sort()).toEqual([...marks(document)].sort())
        expect(marks(edit.document)[edit.index]).toBe(marks(document)[index])
        const moments = eventsOf(edit.document).map((event) => timeOf(event) ?? NaN)
        expect(moments).toEqual([...moments].sort((a, b) => a - b))
        expect(moments[edit.index]).toBeCloseTo(to / 100, 9)
      }),
    )
  })

  test('added, doubled and taken out', () => {
    const one = added(staged(stop('5 s')), draw('2 s'))
    expect(one.index).toBe(0)
    const two = copied(one.document, one.index, 8)
    expect(eventsOf(two.document).map((event) => [at(event, ['do']), at(event, ['at'])])).toEqual([
      ['draw', '2 s'],
      ['stop', '5 s'],
      ['draw', '8 s'],
    ])
    expect(eventsOf(removed(two.document, 1)).map((event) => at(event, ['do']))).toEqual(['draw', 'draw'])
  })

  test('how long each lasts, one that cannot be read beside one that can', () => {
    const [splicing] = stagedOf(splice)
    // 0.6 + 1.2 s down and at rest, 0.6 x 1.15 s up, (0.3 + 1.2 + 0.3 - 0.15^2 x 0.6)/0.15 s of refill, 0.6 x 0.15 s back
    expect(splicing?.lasts).toBeCloseTo(0.6 + 1.2 + 0.69 + (1.8 - 0.0135) / 0.15 + 0.09, 9)
    const list = stagedOf(staged(stop('2 s'), { do: 'draw', at: 'soon' }, { do: 'start', at: '6 s', to: '6 m/min' }))
    expect(list.map(({ time, lasts }) => [time, lasts])).toEqual([
      [2, 2],
      [undefined, 0],
      [6, 1],
    ])
  })
})

describe('instants', () => {
  test('lie on a tick within the run', () => {
    expect(snapped(1.2349, 0.01, 10)).toBe(1.23)
    expect(snapped(-3, 0.01, 10)).toBe(0)
    expect(snapped(12, 0.01, 10)).toBe(9.99)
    expect(snapped(12, 0.3, 1)).toBe(0.9)
  })

  test('what is added where it cannot be goes to the first free place', () => {
    const put = (time: number) => added(splice, stop(`${time} s`)).document
    const time = freeTime(5, 0.01, 24, put)
    expect(time).toBeGreaterThan(17.4)
    expect(readDocument(put(time)).ok).toBe(true)
  })
})

describe.each(names)('what is offered on the line of %s', (name) => {
  const document = open(name)

  test('each kind is possible with figures that can be read, or it is told why not', () => {
    const offers = offersOf(document)
    expect(offers).toHaveLength(13)
    for (const { act, event, why } of offers) {
      expect(event === undefined, act).toBe(why !== '')
      if (!event) continue
      const alone = withValue(document, ['stage'], [eventAt(event, '0.5 s')])
      const reading = readDocument(alone)
      // Whether the line runs then, or indexes already, is a matter of the time; what the event names and states is not.
      const wrong = reading.ok
        ? []
        : reading.problems.filter(({ path }) => path !== 'stage/0/do' && path !== 'stage/0/to')
      expect(
        wrong.map(({ say }) => say),
        act,
      ).toEqual([])
    }
  })

  test('every event of it has a form with its time and all that is written', () => {
    for (const [index, event] of eventsOf(document).entries()) {
      const [own, ...inside] = fieldSets(document, ['stage', index])
      expect(own?.fields.map(({ key }) => key)).toContain(`stage/${index}/at`)
      const written = Object.keys((at(event, ['roll']) ?? {}) as object)
      const shown = inside.flatMap(({ fields }) => fields.map(({ path }) => String(path.at(-1))))
      expect(shown).toEqual(expect.arrayContaining(written))
    }
  })
})

test('a line whose unwind has a brake is told why it cannot hold for a splice', () => {
  const braked = withValue(splice, ['line', 0, 'drive'], { kind: 'brake', torque: '3 N m' })
  const offer = offersOf(braked).find(({ act }) => act === 'zero-speed splice')
  expect(offer?.event).toBeUndefined()
  expect(offer?.why).toContain('brake')
})

describe('the speed profile', () => {
  const read = (document: Json) => {
    const reading = readDocument(document)
    if (!reading.ok) throw new Error(reading.problems[0]?.say)
    return reading.scenario
  }

  test('the unwind stands for the hold and comes back faster than the line', () => {
    const [line, unwind] = curvesOf(read(splice))
    expect([...new Set(line?.values)]).toEqual([0.1])
    const held = [...(unwind?.time ?? [])].flatMap((time, k) => (time > 3.61 && time < 4.79 ? [unwind?.values[k]] : []))
    expect(new Set(held)).toEqual(new Set([0]))
    expect(topOf(curvesOf(read(splice)))).toBeCloseTo(0.115, 9)
  })

  test('an indexing roller feeds one pitch a cycle, and stands between two moves', () => {
    const feed = curvesOf(read(open('continuous-to-indexing.json'))).find(({ role }) => role === 'feed')
    const { time, values } = feed ?? { time: new Float64Array(), values: new Float64Array() }
    // 150 mm at 6 m/min: a cycle of 1.5 s, from 3.2 s on; a move takes 0.7 s of it and reaches 0.15/(0.7 - 0.2) m/s
    const [from, to] = [3.2, 3.2 + 6 * 1.5]
    let fed = 0
    for (let k = 1; k < time.length; k++) {
      const [a, b] = [time[k - 1] ?? 0, time[k] ?? 0]
      if (a >= from - 1e-9 && b <= to + 1e-9) fed += ((b - a) * ((values[k - 1] ?? 0) + (values[k] ?? 0))) / 2
    }
    expect(fed).toBeCloseTo(6 * 0.15, 9)
    const during = [...values].filter((_, k) => (time[k] ?? 0) > 3.5 && (time[k] ?? 0) < 12)
    expect([Math.min(...during), Math.max(...during)]).toEqual([expect.closeTo(0, 9), expect.closeTo(0.3, 9)])
  })

  test('a corner moved sideways changes how long the ramp takes, upwards where it leads', () => {
    const document = staged({ do: 'speed', at: '2 s', to: '12 m/min', in: '4000 ms' })
    const [first, end] = cornersOf(document, stagedOf(document))
    expect(first).toMatchObject({ index: -1, time: 0, free: true })
    expect(end).toMatchObject({ index: 0, time: 6, free: true })
    const later = cornerMoved(document, stagedOf(document)[0], 7.5, 0.2, 'ft/min')
    expect(eventsOf(later)[0]).toMatchObject({ at: '2 s', to: '12 m/min', in: '5.5 s' })
    const faster = cornerMoved(document, stagedOf(document)[0], 6, 0.25, 'ft/min')
    expect(eventsOf(faster)[0]).toMatchObject({ to: '15 m/min', in: '4000 ms' })
    expect(at(cornerMoved(document, undefined, 0, 0.05, 'm/min'), ['speed', 'start'])).toBe('3 m/min')
  })

  test('no ramp ends before it begins; a stop ends at rest', () => {
    const document = staged(stop('2 s'))
    const event = stagedOf(document)[0]
    expect(eventsOf(cornerMoved(document, event, 1, 0.3, 'm/min'))[0]).toEqual(stop('2 s'))
  })

  test('speeds are chosen in round figures of the shown unit', () => {
    expect(speedStep(0.115, 'm/min') * 60).toBeCloseTo(0.1, 9)
    expect(roundedTo(0.1237, 0.1 / 60) * 60).toBeCloseTo(7.4, 9)
    expect(roundedTo(-1, 0.1 / 60)).toBe(0)
  })
})

describe('handles', () => {
  test('none covers another, all have room for a finger, whatever their times', () => {
    const bar = fc.record({ tick: fc.integer({ min: 0, max: 600 }), width: fc.integer({ min: 0, max: 160 }) })
    fc.assert(
      fc.property(fc.array(bar, { maxLength: 40 }), (bars) => {
        const { bars: laid, named } = lanesOf(bars, 600)
        expect(laid).toHaveLength(bars.length)
        laid.forEach((a, k) => {
          expect(a.width).toBeGreaterThanOrEqual(least)
          expect(a.left).toBeGreaterThanOrEqual(0)
          expect(a.left + a.width).toBeLessThanOrEqual(600)
          expect(named ? a.lane < 3 : true).toBe(true)
          for (const b of laid.slice(k + 1)) {
            if (a.lane === b.lane) expect(a.left + a.width <= b.left || b.left + b.width <= a.left).toBe(true)
          }
        })
      }),
    )
  })
})

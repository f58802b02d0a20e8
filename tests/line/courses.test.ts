/** What the stage leads through time: each setting of each part for itself, from where it stands to where it is told. Kinematics. */
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { Courses, type Setting } from '../../src/line/courses'
import type { StageEvent } from '../../src/line/stage'

const speed = { start: 1, acceleration: 0.5, rounding: 0.25, threadingTension: 100 }

const events: readonly (readonly [Setting, string, StageEvent])[] = [
  ['draw', 'nip', { do: 'draw', at: 2, roller: 'nip', to: 7, in: 4 }],
  ['dancer force', 'dancer', { do: 'dancer force', at: 2, dancer: 'dancer', to: 7, in: 4 }],
  ['dancer pressure', 'dancer', { do: 'dancer pressure', at: 2, dancer: 'dancer', to: 7, in: 4 }],
  ['set point', 'dancer', { do: 'set point', at: 2, dancer: 'dancer', to: 7, in: 4 }],
  ['winding tension', 'rewind', { do: 'winding tension', at: 2, roller: 'rewind', to: 7, taper: 7, in: 4 }],
  ['taper', 'rewind', { do: 'winding tension', at: 2, roller: 'rewind', to: 7, taper: 7, in: 4 }],
  ['free strain', 'A', { do: 'free strain', at: 2, film: 'A', to: 7, in: 4 }],
]

describe.each(events)('%s', (what, part, event) => {
  const courses = () => new Courses(speed, [event], 10)

  test('stands, goes over evenly and smoothly, and stays where it has arrived', () => {
    const course = courses().setting(what, part, 3)
    expect([0, 2, 4, 6, 9].map((t) => course.speedAt(t))).toEqual([3, 3, 5, 7, 7])
    // a quarter of the time for each rounded end: slope 4/(4 x 0.75) between
    expect(course.speedAt(3)).toBeCloseTo(3 + (4 / 3) * 0.5, 12)
    expect(course.speedAt(5)).toBeCloseTo(7 - (4 / 3) * 0.5, 12)
  })

  test('is left alone by events of another kind or another part', () => {
    expect(courses().setting(what, 'another', 3).corners()).toEqual([])
    for (const [other, of, e] of events) {
      if (e.do === event.do || other === what) continue
      expect(new Courses(speed, [e], 10).setting(what, of, 3).corners()).toEqual([])
    }
  })

  test('its corners split the run', () => {
    const all = courses()
    all.setting(what, part, 3)
    expect(all.corners()).toEqual(expect.arrayContaining([2, 3, 5, 6]))
  })
})

test('a winding tension without a taper leaves the taper', () => {
  const event: StageEvent = { do: 'winding tension', at: 2, roller: 'rewind', to: 7, in: 4 }
  expect(new Courses(speed, [event], 10).setting('taper', 'rewind', 0.3).speedAt(9)).toBe(0.3)
})

test('one change after another goes on from where the last arrived', () => {
  const any = fc.array(
    fc.record({
      to: fc.integer({ min: -5000, max: 5000 }).map((n) => n / 1000),
      gap: fc.integer({ min: 0, max: 2000 }).map((n) => n / 1000),
    }),
    { minLength: 1, maxLength: 5 },
  )
  fc.assert(
    fc.property(any, (changes) => {
      let at = 0
      const stage = changes.map(({ to, gap }): StageEvent => {
        const event: StageEvent = { do: 'draw', at: at + gap, roller: 'nip', to, in: 0.5 }
        at += gap + 0.5
        return event
      })
      const course = new Courses(speed, stage, at + 1).setting('draw', 'nip', 0)
      stage.forEach((event, k) => {
        const end = event.at + 0.5
        expect(course.speedAt(end)).toBeCloseTo(changes[k].to, 9)
        expect(course.speedAt(event.at)).toBeCloseTo(k === 0 ? 0 : changes[k - 1].to, 9)
      })
    }),
  )
})

describe('a roller with an index feed', () => {
  const feed = { pattern: 'cycloidal', pitch: 0.5, move: 0.4 } as const
  const change = (at: number, to: 'indexing' | 'continuous'): StageEvent => ({
    ...{ do: 'changeover', at, roller: 'index roller', to, phase: 0, in: 0.2 },
  })

  test('follows the line while it feeds continuously', () => {
    const stage: StageEvent[] = [
      { do: 'speed', at: 1, to: 2, in: 2 },
      { do: 'stop', at: 5, in: 1 },
    ]
    const courses = new Courses(speed, stage, 10)
    const profile = courses.feed('index roller', feed)
    for (const t of [0, 1.5, 2, 4, 5.5, 8]) expect(profile.speedAt(t)).toBe(courses.line.speedAt(t))
  })

  test('moves in cycles of the line speed that it finds, and only it', () => {
    const stage: StageEvent[] = [
      { do: 'speed', at: 1, to: 0.5, in: 1 },
      change(3, 'indexing'),
      change(7.2, 'continuous'),
    ]
    const courses = new Courses(speed, stage, 10)
    const profile = courses.feed('index roller', feed)
    // 0.5 m at 0.5 m/s: moves begin at 3.2, 4.2, 5.2, 6.2 s, and each peaks at twice its mean
    for (const begin of [3.2, 4.2, 5.2, 6.2]) {
      expect(profile.speedAt(begin + 0.2)).toBeCloseTo(2.5, 9)
      expect(profile.speedAt(begin + 0.7)).toBe(0)
    }
    for (const [t, v] of [
      [7.3, 0.25],
      [7.4, 0.5],
      [9, 0.5],
    ])
      expect(profile.speedAt(t)).toBeCloseTo(v, 9)
    expect(courses.feed('another', feed).speedAt(3.4)).toBe(0.5)
    expect(courses.line.speedAt(3.4)).toBe(0.5)
    expect(courses.unwind.speedAt(3.4)).toBe(0.5)
  })

  test('goes on to the end of the run', () => {
    const profile = new Courses(speed, [change(1, 'indexing')], 30).feed('index roller', feed)
    expect(profile.speedAt(1.2 + 57 * 0.5 + 0.2)).toBeCloseTo(2.5, 6)
    expect(profile.speedAt(29.95)).toBeCloseTo(2 * 1.25 * Math.sin((Math.PI * 0.25) / 0.4) ** 2, 6)
  })
})

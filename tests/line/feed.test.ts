/** Indexing feed against its definition, written down here a second time as a speed at a phase. Kinematics. */
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { Courses } from '../../src/line/courses'
import { feedSpeed, storedSwing, type FeedSpec } from '../../src/line/feed'
import type { Profile } from '../../src/line/profile'
import type { StageEvent } from '../../src/line/stage'

/** Even between the two: doubles at random lie mostly near nought. */
const number = (min: number, max: number) =>
  fc.integer({ min: 0, max: 1_000_000 }).map((n) => min + ((max - min) * n) / 1_000_000)

/** Any pattern, and how long its dwell lasts as a share of the move. */
const anyFeed = fc.record({ pitch: number(0.05, 0.5), move: number(0.2, 2), dwell: number(0, 3) })
const trapezoid = fc.record({ feed: anyFeed, ramp: number(0.02, 0.5) }).map(({ feed, ramp }): Case => {
  const { pitch, move } = feed
  return { feed: { pattern: 'trapezoid', pitch, move, ramp: ramp * move }, cycle: move * (1 + feed.dwell) }
})
const cycloidal = anyFeed.map(({ pitch, move, dwell }): Case => {
  return { feed: { pattern: 'cycloidal', pitch, move }, cycle: move * (1 + dwell) }
})
const table = fc
  .record({
    feed: anyFeed,
    gaps: fc.array(number(0.05, 1), { minLength: 4, maxLength: 6 }),
    heights: fc.array(number(0.1, 1), { minLength: 3, maxLength: 5 }),
  })
  .map(({ feed: { pitch, move, dwell }, gaps, heights }): Case => {
    const total = gaps.reduce((sum, g) => sum + g, 0)
    const times = gaps.map((_, k) => gaps.slice(0, k + 1).reduce((sum, g) => sum + g, 0) / total).slice(0, -1)
    // begins after and ends before the move does, at rest
    const points = times.map((time, k): [number, number] => [
      time,
      k === 0 || k === times.length - 1 ? 0 : heights[k % heights.length],
    ])
    return { feed: { pattern: 'table', pitch, move, table: points }, cycle: move * (1 + dwell) }
  })
const any = fc.oneof(trapezoid, cycloidal, table)

interface Case {
  readonly feed: FeedSpec
  readonly cycle: number
}

/** Speed (m/s) at time `s` of a cycle, from the definitions. */
function defined(feed: FeedSpec, s: number): number {
  const { pitch, move } = feed
  if (s >= move) return 0
  if (feed.pattern === 'cycloidal') return (2 * pitch * Math.sin((Math.PI * s) / move) ** 2) / move
  if (feed.pattern === 'trapezoid') {
    return (pitch / (move - feed.ramp)) * Math.min(1, s / feed.ramp, (move - s) / feed.ramp)
  }
  const shape = (x: number): number => {
    const k = feed.table.findIndex(([time]) => time > x)
    if (k <= 0) return 0
    const [[from, a], [to, b]] = [feed.table[k - 1], feed.table[k]]
    return a + ((b - a) * (x - from)) / (to - from)
  }
  const area = feed.table
    .slice(1)
    .reduce((sum, [to, b], k) => sum + ((to - feed.table[k][0]) * (b + feed.table[k][1])) / 2, 0)
  return (pitch / (area * move)) * shape(s / move)
}

/** m fed from `from` to `to`: Simpson's rule on eighty stretches between every two corners. */
function fed(profile: Profile, from: number, to: number): number {
  const corners = [from, ...profile.corners().filter((t) => t > from + 1e-12 && t < to - 1e-12), to].sort(
    (a, b) => a - b,
  )
  let sum = 0
  for (let k = 1; k < corners.length; k++) {
    const h = (corners[k] - corners[k - 1]) / 80
    if (h < 1e-12) continue
    for (let n = 0; n < 80; n++) {
      const a = corners[k - 1] + n * h
      // a hair inside the ends, where the neighbouring piece may begin
      const at = (s: number) => profile.speedAt(Math.min(s, corners[k] - 1e-13))
      sum += (h / 6) * (at(a) + 4 * at(a + h / 2) + at(a + h))
    }
  }
  return sum
}

const AT = 1
const IN = 0.3

/** The roller changes over at 1 s within 0.3 s, and back after `cycles` cycles. */
function course({ feed, cycle }: Case, phase: number, cycles = 4): { profile: Profile; back: number } {
  const back = AT + IN + cycles * cycle
  const change = (at: number, to: 'indexing' | 'continuous'): StageEvent => ({
    ...{ do: 'changeover', at, roller: 'roller', to, phase, in: IN },
  })
  const speed = { start: feed.pitch / cycle, acceleration: 1, rounding: 0, threadingTension: 1 }
  const courses = new Courses(speed, [change(AT, 'indexing'), change(back, 'continuous')], back + 2)
  return { profile: courses.feed('roller', feed), back }
}

describe('in whatever pattern, entered at whatever phase', () => {
  const cases = fc.record({ one: any, phase: number(0, 1), share: number(0, 1) })

  test('it moves as its definition says', () => {
    fc.assert(
      fc.property(cases, ({ one, phase, share }) => {
        const { profile } = course(one, phase)
        const s = share * 3.9 * one.cycle
        const inCycle = ((phase % 1) * one.cycle + s) % one.cycle
        const peak = (4 * one.feed.pitch) / one.feed.move
        expect(Math.abs(profile.speedAt(AT + IN + s) - defined(one.feed, inCycle))).toBeLessThan(1e-7 * peak)
        expect(feedSpeed(one.feed, inCycle)).toBeCloseTo(defined(one.feed, inCycle), 9)
      }),
    )
  })

  test('one cycle feeds exactly one pitch, beginning anywhere', () => {
    fc.assert(
      fc.property(cases, ({ one, phase, share }) => {
        const { profile } = course(one, phase)
        const from = AT + IN + share * 2 * one.cycle
        expect(Math.abs(fed(profile, from, from + one.cycle) / one.feed.pitch - 1)).toBeLessThan(1e-7)
      }),
    )
  })

  test('changing over jumps in no speed, there or back, and feeds the mean of both ends', () => {
    fc.assert(
      fc.property(cases, ({ one, phase }) => {
        const { profile, back } = course(one, phase)
        const base = one.feed.pitch / one.cycle
        const enters = defined(one.feed, (phase % 1) * one.cycle)
        for (const t of [AT, AT + IN, back, back + IN]) {
          expect(Math.abs(profile.speedAt(t) - profile.speedAt(t - 1e-9))).toBeLessThan(1e-5 * Math.max(base, 1))
        }
        expect(profile.speedAt(0.5)).toBe(base)
        expect(profile.speedAt(back + 1)).toBeCloseTo(base, 12)
        expect(fed(profile, AT, AT + IN)).toBeCloseTo(((base + enters) / 2) * IN, 9)
        // the whole number of cycles has come back to the phase at which they were entered
        expect(fed(profile, back, back + IN)).toBeCloseTo(((base + enters) / 2) * IN, 7)
      }),
    )
  })

  test('its acceleration, which a drive is fed forward with, is the slope of its speed', () => {
    fc.assert(
      fc.property(cases, ({ one, phase, share }) => {
        const { profile } = course(one, phase)
        const t = AT + 0.99 * share * (IN + 3 * one.cycle)
        const h = 1e-6 * one.feed.move
        if (profile.corners().some((corner) => Math.abs(corner - t) < 2 * h)) return
        profile.enter(t)
        const slope = (profile.speedAt(t + h) - profile.speedAt(t - h)) / (2 * h)
        const most = (100 * one.feed.pitch) / one.feed.move ** 2
        expect(Math.abs(profile.rate(t) - slope)).toBeLessThan(1e-6 * most)
        expect(profile.value(t)).toBe(profile.speedAt(t))
      }),
    )
  })

  test('the stored film swings by what the speeds add up to', () => {
    fc.assert(
      fc.property(any, ({ feed, cycle }) => {
        const n = 4000
        const base = feed.pitch / cycle
        let [stored, least, most] = [0, 0, 0]
        for (let k = 0; k < n; k++) {
          stored += (base - defined(feed, ((k + 0.5) / n) * cycle)) * (cycle / n)
          least = Math.min(least, stored)
          most = Math.max(most, stored)
        }
        expect(Math.abs(storedSwing(feed, cycle) - (most - least))).toBeLessThan(3e-3 * feed.pitch)
      }),
    )
  })
})

describe('stored film in closed form', () => {
  test('a cycloid as long as its cycle: pitch/pi', () => {
    expect(storedSwing({ pattern: 'cycloidal', pitch: 0.25, move: 1 }, 1)).toBeCloseTo(0.25 / Math.PI, 12)
  })

  test('a trapezoid: v (T_c - T_i) + v^2/a', () => {
    const [pitch, cycle, move, ramp] = [0.3, 2, 0.8, 0.15]
    const [v, a] = [pitch / cycle, pitch / (move - ramp) / ramp]
    const stored = storedSwing({ pattern: 'trapezoid', pitch, move, ramp }, cycle)
    expect(stored).toBeCloseTo(v * (cycle - move) + (v * v) / a, 12)
  })

  test('a table of steps, which is a rectangle: pitch (1 - T_i/T_c)', () => {
    const steps: [number, number][] = [
      [0, 1],
      [0.5, 1],
      [1, 1],
    ]
    expect(storedSwing({ pattern: 'table', pitch: 0.2, move: 0.5, table: steps }, 2)).toBeCloseTo(0.2 * 0.75, 12)
  })

  test('a table that begins late and ends early stands before and after', () => {
    const late: FeedSpec = {
      pattern: 'table',
      pitch: 0.1,
      move: 1,
      table: [
        [0.3, 0],
        [0.5, 1],
        [0.7, 0],
      ],
    }
    expect([0.1, 0.29, 0.71, 0.9].map((s) => feedSpeed(late, s))).toEqual([0, 0, 0, 0])
    // 1 s of standing and 0.4 s that feed all of it
    const v = 0.1 / 1.4
    const slope = 0.5 / 0.2
    expect(storedSwing(late, 1.4)).toBeCloseTo(v + (v * v) / slope, 9)
  })
})

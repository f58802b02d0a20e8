/** Index feed in whole runs: what the dancers travel, what the trims add, what film has passed. Kinematics; bounds for drives and trims. */
import { describe, expect, test } from 'vitest'
import { storedSwing } from '../../src/line/feed'
import type { Run } from '../../src/run/run'
import { finish, open, ready } from './lines'

interface Sample {
  readonly time: number
  /** m, positions of both dancers */
  readonly z: readonly number[]
  /** share of line speed, outputs of both trims */
  readonly u: readonly number[]
  /** m/s, surfaces of the infeed nip and the index roller */
  readonly speeds: readonly [number, number]
  readonly least: number
}

function sampled(file: string): { samples: Sample[]; run: Run } {
  const run = ready(open(`scenarios/${file}`))
  const { rollers } = run.line
  const [infeed, index] = ['infeed nip', 'index roller'].map((name) => rollers.names.indexOf(name))
  const surface = (i: number) => rollers.speed[i] * rollers.radius[i]
  const samples: Sample[] = []
  finish(run, ({ time, y, line: { carriages, trims, spans } }) => {
    samples.push({
      ...{ time, z: carriages.map((c) => y[c.state]), u: trims.map((t) => t.output) },
      ...{ speeds: [surface(infeed), surface(index)], least: Math.min(...spans.force) },
    })
  })
  return { samples, run }
}

const between = (samples: readonly Sample[], from: number, to: number) =>
  samples.filter(({ time }) => time > from - 1e-9 && time < to - 1e-9)
const mean = (values: readonly number[]) => values.reduce((sum, x) => sum + x, 0) / values.length
const spread = (values: readonly number[]) => Math.max(...values) - Math.min(...values)
/** m that passed a surface while these samples were taken, every 10 ms */
const passed = (samples: readonly Sample[], which: 0 | 1) => samples.reduce((sum, s) => sum + s.speeds[which] * 0.01, 0)

describe('from continuous to indexing and back', () => {
  const { samples, run } = sampled('continuous-to-indexing.json')
  const feed = { pattern: 'trapezoid', pitch: 0.15, move: 0.7, ramp: 0.2 } as const
  const cycle = 0.15 / 0.1
  const travel = storedSwing(feed, cycle) / 2

  test('both dancers travel what the stored film needs, cycle by cycle', () => {
    for (let n = 0; n < 7; n++) {
      const one = between(samples, 4.2 + n * cycle, 4.2 + (n + 1) * cycle)
      for (const k of [0, 1]) expect(spread(one.map(({ z }) => z[k])) / travel).toBeCloseTo(1, 1)
    }
    expect(travel).toBeGreaterThan(0.02)
  })

  test('they move against each other: what one gives the other takes', () => {
    const one = between(samples, 6, 6 + cycle)
    const [a, b] = [0, 1].map((k) => one.map(({ z }) => z[k]))
    const [ma, mb] = [mean(a), mean(b)]
    const along = a.reduce((sum, x, n) => sum + (x - ma) * (b[n] - mb), 0)
    expect(along).toBeLessThan(0)
  })

  test('each cycle feeds one pitch, and the unwind side as much on average', () => {
    for (let n = 0; n < 7; n++) {
      const one = between(samples, 4.2 + n * cycle, 4.2 + (n + 1) * cycle)
      expect(passed(one, 1) / 0.15).toBeCloseTo(1, 2)
    }
    const seven = between(samples, 4.2, 4.2 + 7 * cycle)
    expect(passed(seven, 0) / passed(seven, 1)).toBeCloseTo(1, 1.5)
  })

  test('the trims only trim: a few percent of line speed', () => {
    for (const { u, time } of samples) for (const x of u) expect(Math.abs(x), `at ${time} s`).toBeLessThan(0.04)
  })

  test('before and after both dancers stand still, and come back to their middle', () => {
    const before = between(samples, 0, 3)
    const after = between(samples, 21, 22)
    for (const k of [0, 1]) {
      expect(spread(before.map(({ z }) => z[k]))).toBeLessThan(1e-3)
      expect(spread(after.map(({ z }) => z[k]))).toBeLessThan(5e-3)
      const [early, late] = [between(samples, 4.2, 4.2 + cycle), between(samples, 13.2, 13.2 + cycle)]
      const off = (of: Sample[]) => Math.abs(mean(of.map(({ z }) => z[k])))
      expect(off(late)).toBeLessThan(off(early))
    }
    expect(run.happenings.filter(({ what }) => what === 'event').map(({ at }) => at)).toEqual([3, 15])
  })

  test('the film stays taut', () => {
    expect(Math.min(...samples.map(({ least }) => least))).toBeGreaterThan(15)
  })
})

describe('at three speeds', () => {
  const { samples } = sampled('indexing-speeds.json')
  const feed = { pattern: 'cycloidal', pitch: 0.2, move: 0.8 } as const

  test.each([
    [6, 2.2, 3],
    [7.5, 13.2, 4],
    [9, 24.2, 5],
  ])('%d m/min: a dancer travels half of the swing at its cycle', (speed, from, cycles) => {
    const cycle = 0.2 / (speed / 60)
    const expected = storedSwing(feed, cycle) / 2
    for (let n = 1; n < cycles; n++) {
      const one = between(samples, from + n * cycle, from + (n + 1) * cycle)
      for (const k of [0, 1]) expect(spread(one.map(({ z }) => z[k])) / expected).toBeCloseTo(1, 1)
    }
    // three cycles are a whole number of ticks at each speed
    expect(passed(between(samples, from, from + 3 * cycle), 1) / 0.6).toBeCloseTo(1, 2)
  })

  test('the slower the line, the more must be stored', () => {
    const swings = [6, 7.5, 9].map((speed) => storedSwing(feed, 0.2 / (speed / 60)))
    expect(swings[0]).toBeGreaterThan(swings[1])
    expect(swings[1]).toBeGreaterThan(swings[2])
  })
})

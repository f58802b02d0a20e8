/** The roll that film comes off: radius, inertia against its brake, turning back and forth, the end of the film. Newton, geometry. */
import { describe, expect, test } from 'vitest'
import {
  dancer,
  EA,
  finish,
  moveDancer,
  nip,
  pet,
  pointOf,
  rewind,
  runOf,
  span,
  timeOf,
  trim,
  unwind,
  type Entry,
} from './rig'
import type { Setting } from './rig'

const STRETCH = 1 + 100 / EA
const brake = (torque: number): Entry => ({ drive: { kind: 'brake', torque: `${torque} N m` } })

const line = (changes: Entry = {}, damping = 0) => [
  ...[unwind(100, changes), span(1, damping), nip('nip'), span(1, damping), rewind()],
]

test('film leaves with the stretch that it was wound with: faster than it lies, the span carries more', () => {
  for (const tension of [20, 100, 800]) {
    const setting = { line: [unwind(tension), ...line().slice(1)] }
    const { spans, rollers } = pointOf(setting).line
    expect(rollers.flux[0]).toBeCloseTo(1 / (1 + tension / EA), 12)
    expect(spans.force[0]).toBeCloseTo(tension, 6)
  }
})

test('its radius tells how much has gone: R0^2 - R^2 = h s/pi, at every sample', () => {
  const run = runOf({ line: line(), speed: 5, duration: 5 })
  finish(run, ({ y, line: { rollers, unwoundState } }) => {
    expect(0.2 ** 2 - rollers.radius[0] ** 2).toBeCloseTo((50e-6 * y[unwoundState]) / Math.PI, 13)
  })
  expect(run.y[run.line.unwoundState]).toBeCloseTo(25 / STRETCH, 8)
})

describe('against a brake alone', () => {
  /** J/R^2 of the roll, kg: what its surface weighs for the film */
  const weight = (0.01 + ((1390 * Math.PI) / 2) * (0.2 ** 4 - 0.045 ** 4)) / 0.2 ** 2
  const rounding = 0.3
  const stop = (share: number): Setting => {
    const seconds = weight / (share * 100 * (1 - rounding))
    return {
      line: line(brake(20), 0.005),
      stage: [{ at: '0.1 s', do: 'stop', in: `${seconds} s` }],
      duration: 0.6 * seconds,
      rounding,
    }
  }

  test('tension is torque over radius; it rises as the roll gets smaller', () => {
    for (const diameter of [0.4, 0.2, 0.1]) {
      const { force } = pointOf({ line: line({ ...brake(20), diameter: `${diameter} m` }) }).line.spans
      expect(force[0]).toBeCloseTo(20 / (diameter / 2), 5)
    }
  })

  test('a stop asks J a/R^2 of it: just less than the brake has, and the film stays taut', () => {
    const run = runOf(stop(0.95))
    const { spans } = finish(run)
    expect(run.happenings.some((h) => h.what === 'slack')).toBe(false)
    expect(spans[0].tension.min).toBeGreaterThan(0)
    expect(spans[0].tension.min).toBeLessThan(6)
  })

  test('just more, and the roll runs on while the film hangs', () => {
    const run = runOf(stop(1.05))
    finish(run)
    expect(timeOf(run, 'slack')).toBeGreaterThan(0.1)
    expect(run.line.spans.force[0]).toBe(0)
    expect(run.line.rollers.speed[0] * run.line.rollers.radius[0]).toBeGreaterThan(run.line.rollers.flux[1])
  })
})

describe('the end of the film', () => {
  const thin = (above: number) => line({ diameter: `${0.09 + 2 * above} m`, core: '90 mm' })

  test('ends the run when the core is bare, and that is an outcome', () => {
    const run = runOf({ line: thin(1e-3), duration: 30, tick: 0.05 })
    const { film } = finish(run)
    const length = (Math.PI * (0.046 ** 2 - 0.045 ** 2)) / 50e-6
    expect(timeOf(run, 'runs out', 'unwind')).toBeCloseTo(length * STRETCH, 5)
    expect(film.unwound).toBeCloseTo(length, 5)
    expect(run.time).toBeLessThan(length * STRETCH + 1e-5)
  })

  test('a roll of a single lap runs off within a turn', () => {
    const run = runOf({ line: thin(50e-6), duration: 1 })
    finish(run)
    expect(timeOf(run, 'runs out')).toBeCloseTo(2 * Math.PI * 0.045025 * STRETCH, 5)
  })
})

describe('turning back', () => {
  /** A dancer below its set point at rest asks the unwind to take film back; when it is there the unwind has given it again. */
  const back = (changes: Entry): Setting => ({
    line: [
      ...[unwind(100, { drive: { kind: 'lag', lag: '50 ms' } }), span(0.6, 0.001), dancer('dancer', changes)],
      ...[span(0.4, 0.001), nip('nip'), span(1), rewind()],
    ],
    ...{ control: [trim('dancer', 'unwind', { gain: '3 1/s' })], speed: 0, threading: 100, duration: 3 },
  })
  const runBack = () => runOf(back({ stiffness: '2000 N/m', force: '200 N' }), (point) => moveDancer(point, 0.06, 40))

  test('it takes film at the stretch of the span, and the roll grows by it', () => {
    const run = runBack()
    let [taken, lowest] = [0, 0]
    finish(run, ({ y, line: { rollers, spans, unwoundState } }) => {
      if (rollers.speed[0] < -1e-6) {
        expect(rollers.flux[0]).toBeCloseTo((rollers.radius[0] * rollers.speed[0]) / (1 + spans.pull[0] / EA), 14)
        taken++
      }
      lowest = Math.min(lowest, y[unwoundState])
      expect(rollers.radius[0] ** 2 - 0.04).toBeCloseTo((-50e-6 * y[unwoundState]) / Math.PI, 13)
    })
    expect(taken).toBeGreaterThan(50)
    expect(lowest).toBeLessThan(-0.05)
    expect(run.line.rollers.radius[0]).toBeGreaterThan(0.2)
  })

  test('and gives it again at that stretch, before film as it was delivered comes', () => {
    const run = runBack()
    const taken: { s: number; stretch: number }[] = []
    finish(run, ({ y, line: { rollers, spans, unwoundState } }) => {
      if (rollers.flux[0] < -1e-3) taken.push({ s: -y[unwoundState], stretch: 1 + spans.pull[0] / EA })
    })
    const { line: built, y, time } = run
    y[built.rollers.state[0]] = 1
    const letOff = (s: number) => {
      y[built.unwoundState] = -s
      built.rates(time, y)
      built.tick(y)
      return built.spans.woundIn
    }
    // from the outside in; it is noted once a tick, so it is known to what changes within one
    for (const { s, stretch } of taken.slice(1).reverse()) expect(Math.abs(letOff(s) - stretch)).toBeLessThan(2e-5)
    expect(Math.max(...taken.map((t) => Math.abs(t.stretch - STRETCH)))).toBeGreaterThan(1e-4)
    expect(letOff(-1e-9)).toBeCloseTo(STRETCH, 14)
    built.rates(time, y)
    expect(built.rollers.flux[0]).toBeCloseTo(built.rollers.radius[0] / STRETCH, 14)
  })
})

test('a roll of film half as dense weighs half as much', () => {
  const inertia = (density: string) =>
    pointOf({ line: line(), films: { A: { ...pet, density } } }).line.rollers.inertia[0] - 0.01
  expect(inertia('695 kg/m^3') / inertia('1390 kg/m^3')).toBeCloseTo(0.5, 12)
  const mass = (1390 * Math.PI) / 2
  expect(inertia('1390 kg/m^3')).toBeCloseTo(mass * (0.2 ** 4 - 0.045 ** 4), 10)
})

/**
 * The position loop: n dz/dt = v_in - v_out, an integrator, with a drive that lags behind: T s^3 + s^2 + (Kp/n) s + Ki/n = 0,
 * stable exactly when Kp > T Ki (Routh). Own derivation; eigenvalues of the whole line, and runs across the boundary.
 */
import { EigenvalueDecomposition, Matrix } from 'ml-matrix'
import { describe, expect, test } from 'vitest'
import { jacobian } from '../../src/line/jacobian'
import {
  dancer,
  finish,
  moveDancer,
  nip,
  pointOf,
  rewind,
  runOf,
  span,
  trim,
  unwind,
  type Entry,
  type Point,
} from './rig'
import type { Setting } from './rig'

const LAG = 0.4
const lag = { drive: { kind: 'lag', lag: `${LAG} s` } }

/** The dancer stands before the nip and trims the unwind, or behind it and trims the rewind. */
function loop(
  where: 'unwind' | 'rewind',
  changes: Entry,
  rest: Partial<Setting> = {},
  nipChanges: Entry = {},
): Setting {
  const zone = [dancer('dancer', { mass: '1 kg' }), span(0.4, 0.001)]
  const line =
    where === 'unwind'
      ? [unwind(100, lag), span(0.6, 0.001), ...zone, nip('nip', nipChanges), span(1), rewind(nipChanges)]
      : [unwind(100), span(0.6, 0.001), nip('nip'), span(1), ...zone, rewind(lag)]
  return { line, control: [trim('dancer', where, changes)], ...rest }
}

const gains = (kp: number, ki: number) => ({ gain: `${kp} 1/s`, integral: `${ki} 1/s^2` })

interface Complex {
  readonly re: number
  readonly im: number
}

function eigenvalues(a: Matrix): Complex[] {
  const { realEigenvalues, imaginaryEigenvalues } = new EigenvalueDecomposition(a)
  return realEigenvalues.map((re, k) => ({ re, im: imaginaryEigenvalues[k] }))
}

/** Roots of T s^3 + s^2 + p s + q. */
const roots = (p: number, q: number) =>
  eigenvalues(
    new Matrix([
      [-1 / LAG, -p / LAG, -q / LAG],
      [1, 0, 0],
      [0, 1, 0],
    ]),
  )

function expectRoots({ line, y }: Point, expected: Complex[]): void {
  const states = y.map((_, k) => k)
  const found = eigenvalues(jacobian(line, 0, y, states, line.scales()))
  for (const root of expected) {
    const nearest = Math.min(...found.map((f) => Math.hypot(f.re - root.re, f.im - root.im)))
    expect(nearest / Math.hypot(root.re, root.im)).toBeLessThan(2e-3)
  }
}

describe('the loop of two strands has the roots of T s^3 + s^2 + Kp/2 s + Ki/2', () => {
  test.each([
    ['unwind', 1.2, 0.4],
    ['unwind', 4, 2],
    ['unwind', 0.5, 3],
    ['rewind', 1.2, 0.4],
    ['rewind', 0.5, 3],
  ] as const)('%s, Kp %d, Ki %d', (where, kp, ki) => {
    expectRoots(pointOf(loop(where, gains(kp, ki))), roots(kp / 2, ki / 2))
  })

  test.each([0.5, 2])('of kind ratio its gains follow line speed: %d m/s', (speed) => {
    const ratio = { kind: 'ratio', gain: '1.5 1/m', integral: '0.6 1/(m s)', limit: '50 %' }
    expectRoots(pointOf(loop('unwind', ratio, { speed })), roots((1.5 * speed) / 2, (0.6 * speed) / 2))
  })

  test('with one strand at a wrap of 60 deg they are those of n = 2 sin(30 deg) = 1', () => {
    const setting = loop('unwind', gains(1.2, 0.4))
    const line = setting.line.map((part) =>
      part['part'] === 'dancer' ? { ...part, wrap: '60 deg', force: '100 N' } : part,
    )
    expectRoots(pointOf({ ...setting, line }), roots(1.2, 0.4))
  })
})

describe('across the boundary Kp = T Ki, in time', () => {
  const ki = 3
  const swing = (share: number, where: 'unwind' | 'rewind') => {
    const setting = loop(where, gains(share * LAG * ki, ki), { speed: 0.5, duration: 24, tick: 0.05, tolerance: 1e-6 })
    const run = runOf(setting, (point) => moveDancer(point, 0.005, 100))
    const { state } = run.line.carriages[0]
    const [early, late] = [[0], [0]]
    finish(run, ({ time, y }) => {
      if (time < 8) early.push(Math.abs(y[state]))
      if (time > 16) late.push(Math.abs(y[state]))
    })
    return Math.max(...late) / Math.max(...early)
  }

  test.each(['unwind', 'rewind'] as const)('%s: a tenth above it settles, a tenth below it grows', (where) => {
    expect(swing(1.1, where)).toBeLessThan(0.7)
    expect(swing(0.9, where)).toBeGreaterThan(1.4)
  })
})

describe('the integral', () => {
  test('finds the speed that a wrong nip takes: the dancer stands at its set point', () => {
    const setting = loop('unwind', gains(1.2, 0.4), {}, { draw: '1 %' })
    const { line, y } = pointOf(setting)
    expect(y[line.carriages[0].state]).toBeCloseTo(0, 9)
    expect(line.trims[0].output).toBeCloseTo(0.01, 4)
  })

  test('without one the dancer stands off by u/Kp', () => {
    const setting = loop('unwind', { gain: '2 1/s' }, {}, { draw: '1 %' })
    const { line, y } = pointOf(setting)
    expect(y[line.carriages[0].state]).toBeCloseTo(-0.01 / 2, 4)
    expect(line.trims[0].output).toBeCloseTo(0.01, 4)
  })
})

describe('at its limit', () => {
  const limited = loop('unwind', { ...gains(2, 0.5), limit: '0.05 m/s' })

  test.each([-1, 1])('the output stays there (%d), and the integral goes to it as exp(-Ki/Kp t)', (side) => {
    const { line, y } = pointOf(limited)
    const { state } = line.trims[0]
    y[line.carriages[0].state] = side * 0.15
    y[state] = 0.07
    const rates = line.rates(0, y)
    expect(line.trims[0].output).toBe(-side * 0.05)
    expect(rates[state]).toBeCloseTo((side * 0.05 - 0.5 * 0.07) / 2, 12)
    expect(line.trims[0].outputRate).toBe(0)
  })

  test('below it nothing is taken off', () => {
    const { line, y } = pointOf(limited)
    y[line.carriages[0].state] = 0.01
    const rates = line.rates(0, y)
    expect(rates[line.trims[0].state]).toBeCloseTo(0.01, 12)
    expect(line.trims[0].output).toBeCloseTo(-0.02 - 0.5 * y[line.trims[0].state], 12)
  })
})

describe('during a zero-speed splice of the unwind that it trims', () => {
  const splice = {
    ...{ at: '0.5 s', do: 'zero-speed splice', film: 'A', rampDown: '0.5 s', hold: '0.4 s', rampUp: '0.5 s' },
    ...{ refill: '60 %', patch: '0 mm', roll: { diameter: '450 mm', woundTension: '100 N' } },
  }
  const ideal = { drive: { kind: 'ideal' } }
  const end = 0.5 + 1.7 + (0.25 + 0.4 + 0.25 - 0.36 * 0.5) / 0.6 + 0.3
  const course = (changes: Entry) => {
    const wrong = { draw: '1 %' }
    const setting = loop('unwind', changes, { speed: 0.25, stage: [splice], duration: 4.5, tick: 0.005 }, wrong)
    const line = setting.line.map((part) => (part['part'] === 'unwind' ? { ...part, ...ideal } : part))
    const samples: { time: number; output: number; surface: number; base: number; integral: number; z: number }[] = []
    finish(runOf({ ...setting, line }), ({ time, y, line: { trims, rollers, courses, carriages } }) => {
      const surface = rollers.radius[0] * rollers.speed[0]
      samples.push({
        ...{ time, surface, output: trims[0].output, base: courses.unwind.speedAt(time) },
        ...{ integral: y[trims[0].state], z: y[carriages[0].state] },
      })
    })
    return samples
  }

  test.each<[string, Entry]>([
    ['speed', gains(1.2, 0.8)],
    ['ratio', { kind: 'ratio', gain: '4 1/m', integral: '3 1/(m s)', limit: '50 %' }],
  ])('it keeps its share of the reference, and takes over again without a jump (%s)', (kind, changes) => {
    const samples = course(changes)
    const held = samples.filter((s) => s.time > 0.5 && s.time < end)
    expect(held.length).toBeGreaterThan(500)
    const share = kind === 'speed' ? held[0].output / 0.25 : held[0].output
    expect(share).toBeCloseTo(0.01, 4)
    for (const s of held) {
      expect(s.output).toBe(held[0].output)
      expect(s.integral).toBe(held[0].integral)
      expect(s.surface).toBeCloseTo(s.base * (1 + share), 12)
    }
    const after = samples.filter((s) => s.time >= end)
    expect(after[0].time).toBeLessThan(end + 0.006)
    expect(after[0].output).toBeCloseTo(held[0].output, 5)
    expect(after[0].surface / after[0].base).toBeCloseTo(1 + share, 5)
    expect(after[0].z).toBeCloseTo(0, 3)
    expect(Math.min(...samples.map((s) => s.z))).toBeLessThan(-0.11)
    expect(after.at(-1)?.z).toBeCloseTo(0, 3)
  })
})

test.each<[string, Entry]>([
  ['speed', gains(1.2, 0.8)],
  ['ratio', { kind: 'ratio', gain: '4 1/m', integral: '3 1/(m s)', limit: '50 %' }],
])('let go with the dancer anywhere, its output goes on from where it was held (%s)', (_, changes) => {
  const { line, y } = pointOf(loop('unwind', changes, {}, { draw: '1 %' }))
  const [made] = line.trims
  const held = made.output
  made.hold(1)
  y[line.carriages[0].state] = 0.03
  line.rates(0, y)
  expect(made.output).toBe(held)
  made.release(y)
  line.rates(0, y)
  expect(made.output).toBeCloseTo(held, 12)
  expect(Math.abs(held)).toBeGreaterThan(0.005)
})

test.each<[string, Entry]>([
  ['speed', gains(1.2, 0.8)],
  ['ratio', { kind: 'ratio', gain: '4 1/m', integral: '3 1/(m s)', limit: '50 %' }],
])('a roll that follows it exactly is turned faster at the rate at which its reference rises (%s)', (_, changes) => {
  const setting = loop('unwind', changes)
  const line = setting.line.map((part) => (part['part'] === 'unwind' ? { ...part, drive: { kind: 'ideal' } } : part))
  const { line: built, y } = pointOf({ ...setting, line })
  const { state } = built.carriages[0]
  y[state] = 0.01
  y[state + 1] = 0.3
  const step = 1e-6
  const rates = built.rates(0, y).slice()
  const told = built.rollers.acceleration[0]
  const speedAt = (s: number) => {
    built.rates(
      0,
      y.map((value, k) => value + s * rates[k]),
    )
    return built.rollers.speed[0]
  }
  expect(told).toBeCloseTo((speedAt(step) - speedAt(-step)) / (2 * step), 6)
  expect(Math.abs(told)).toBeGreaterThan(0.5)
})

test('a ratio trim has no authority at rest, a speed trim has', () => {
  const ratio = { kind: 'ratio', gain: '1.5 1/m', limit: '50 %' }
  const off = (changes: Entry) => {
    const { line, y } = pointOf({ ...loop('unwind', changes), speed: 0, threading: 100 })
    y[line.carriages[0].state] = 0.02
    return line.rates(0, y)[line.rollers.state[0]]
  }
  expect(Math.abs(off(ratio))).toBe(0)
  expect(off({ gain: '1.5 1/s' })).toBeCloseTo((-1.5 * 0.02) / 0.2 / LAG, 10)
})

/**
 * A dancer on its carriage: statics, modes on the film, and with its strands cut off the oscillator of every textbook. Newton and
 * Coulomb friction; closed forms own derivation.
 */
import { EigenvalueDecomposition } from 'ml-matrix'
import { describe, expect, test } from 'vitest'
import { jacobian } from '../../src/line/jacobian'
import { operatingPoint } from '../../src/line/rest'
import { Line } from '../../src/line/line'
import { dancer, EA, finish, idler, moveDancer, pointOf, rewind, runOf, scenarioOf, slacken, span, timeOf } from './rig'
import { unwind, type Entry, type Point, type Setting } from './rig'
import type { Run } from '../../src/run/run'

const GRAVITY = 9.80665

const one = (changes: Entry = {}, rest: Partial<Setting> = {}, before = 1, after = 1): Setting => ({
  line: [unwind(100), span(before), dancer('dancer', changes), span(after), rewind()],
  ...rest,
})
const standing = { speed: 0, threading: 100 }
const pull = ({ spans }: Line, wrap = 180) => 2 * Math.sin((wrap * Math.PI) / 360) * spans.force[0]

describe('in steady motion the strands carry force, weight and spring', () => {
  test.each<[string, Entry, number]>([
    ['level', {}, 200],
    ['storing downward its weight pulls with the force', { stores: 'down' }, 200 + 4 * GRAVITY],
    ['storing upward its weight pulls against it', { stores: 'up' }, 200 - 4 * GRAVITY],
  ])('%s', (_, changes, expected) => {
    expect(pull(pointOf(one(changes)).line)).toBeCloseTo(expected, 5)
  })

  test.each([60, 120, 240])('F = P/(2 sin(wrap/2)) at a wrap of %d deg', (wrap) => {
    expect(pull(pointOf(one({ wrap: `${wrap} deg` })).line, wrap)).toBeCloseTo(200, 5)
  })

  test('a spring pushes back to its zero', () => {
    const { line } = pointOf(one({ stiffness: '500 N/m', springZero: '20 mm', setPoint: '-60 mm' }, standing))
    expect(pull(line)).toBeCloseTo(200 - 500 * (-0.06 - 0.02), 5)
  })
})

test('spans are longer by sin(wrap/2) for every metre of travel', () => {
  const { line, y } = pointOf(one({ wrap: '120 deg' }))
  const before = Array.from(line.spans.length)
  const z = line.carriages[0].state
  y[z] += 0.03
  y[z + 1] = 0.4
  line.rates(0, y)
  for (const j of [0, 1]) {
    expect(line.spans.length[j] - before[j]).toBeCloseTo(0.03 * Math.sin(Math.PI / 3), 14)
    expect(line.spans.lengthRate[j]).toBeCloseTo(0.4 * Math.sin(Math.PI / 3), 14)
  }
})

/** Squares of the angular frequencies of the standing line, rising; `hold` may set discrete states. */
function modes(setting: Setting, hold: (p: Point) => void = () => undefined): number[] {
  const point = pointOf(setting)
  hold(point)
  const states = point.y.map((_, k) => k)
  const a = jacobian(point.line, 0, point.y, states, point.line.scales())
  const found = new EigenvalueDecomposition(a).imaginaryEigenvalues.filter((w) => w > 1)
  return found.map((w) => w * w).sort((p, q) => p - q)
}

describe('on held film', () => {
  /** half the arc on the dancer's roller, m */
  const arc = (0.1 * Math.PI) / 4
  /** stiffness of film at the strain of 100 N, N */
  const STRAINED = EA * (1 + 100 / EA)
  const light = { inertia: '1e-7 kg m^2', stiffness: '2000 N/m' }
  const setting = one(light, standing, 0.4 - arc, 1.4 - arc)

  test('with a light roller free to turn: w^2 = (k + 4 EA/(L1 + L2))/M', () => {
    expect(modes(setting)[0] / ((2000 + (4 * STRAINED) / 1.8) / 4)).toBeCloseTo(1, 5)
  })

  test('with its roller held from turning: w^2 = (k + sum EA/L)/M', () => {
    const held = modes(setting, ({ line }) => line.rollers.mode.fill(0))
    expect(held).toHaveLength(1)
    expect(held[0] / ((2000 + STRAINED / 0.4 + STRAINED / 1.4) / 4)).toBeCloseTo(1, 5)
  })

  test('a festoon: an idler that rides adds its strands, and the middle span moves with both', () => {
    const rides = { rides: 'dancer', wrap: '180 deg' }
    const line = [
      ...[unwind(100), span(1), dancer('dancer', { force: '400 N' }), span(1), idler('turn'), span(1)],
      ...[idler('rider', rides), span(1), rewind()],
    ]
    const { line: built, y } = pointOf({ line, ...standing })
    const { spans, shares } = built.carriages[0].strands
    expect(spans).toEqual([0, 1, 2, 3])
    for (const share of shares) expect(share).toBeCloseTo(1, 12)
    expect(built.carriages[0].strandPull()).toBeCloseTo(400, 6)
    expect(built.rates(0, y)[built.carriages[0].state + 1]).toBeCloseTo(0, 6)
  })
})

/** The dancer alone: film hangs slack on either side, line at rest. It starts at `z`. */
function alone(changes: Entry, z: number, rest: Partial<Setting>): Run {
  return runOf(one({ force: '20 N', ...changes }, { ...standing, tick: 0.01, ...rest }), (point) => {
    point.y[point.line.carriages[0].state] = z
    point.line.carriages[0].place(0, point.y)
    slacken(point, 0.5)
  })
}

function course(run: Run, expected: (t: number) => number): number {
  const state = run.line.carriages[0].state
  let largest = 0
  finish(run, ({ time, y }) => (largest = Math.max(largest, Math.abs(y[state] - expected(time)))))
  return largest
}

/** Position of a mass on a spring with dry friction that starts at rest in `start`; `rest` is where the spring alone holds it. */
function withFriction(start: number, rest: number, offset: number, w: number): (t: number) => number {
  return (t) => {
    let [z, left] = [start, t]
    for (;;) {
      if (Math.abs(z - rest) <= offset) return z
      const centre = rest + Math.sign(z - rest) * offset
      if (left < Math.PI / w) return centre + (z - centre) * Math.cos(w * left)
      z = 2 * centre - z
      left -= Math.PI / w
    }
  }
}

describe('with its strands cut off', () => {
  const spring = { stiffness: '400 N/m' }
  const w = Math.sqrt(400 / 4)

  test('swings about where the spring holds it, with sqrt(k/M)', () => {
    const run = alone(spring, -0.1, { duration: 2 })
    expect(course(run, (t) => 0.05 - 0.15 * Math.cos(w * t))).toBeLessThan(1e-6)
  })

  test('with a damper decays as exp(-c t/(2 M))', () => {
    const decay = 24 / 8
    const damped = Math.sqrt(w * w - decay * decay)
    const expected = (t: number) =>
      0.05 - 0.15 * Math.exp(-decay * t) * (Math.cos(damped * t) + (decay / damped) * Math.sin(damped * t))
    expect(course(alone({ ...spring, damping: '24 N s/m' }, -0.1, { duration: 3 }), expected)).toBeLessThan(1e-6)
  })

  test('with dry friction loses 4 F_c/k a cycle and stops for good inside the dead band', () => {
    const run = alone({ ...spring, slidingFriction: '5.2 N' }, -0.1, { duration: 3 })
    expect(course(run, withFriction(-0.1, 0.05, 5.2 / 400, w))).toBeLessThan(1e-6)
    expect(run.line.carriages[0].on).toBe('stuck')
    expect(run.y[run.line.carriages[0].state + 1]).toBe(0)
  })

  test('within its friction it does not move at all', () => {
    const run = alone({ ...spring, slidingFriction: '5.2 N' }, 0.05 + 0.0129, { duration: 1 })
    finish(run)
    expect(run.y[run.line.carriages[0].state]).toBe(0.05 + 0.0129)
    expect(run.line.carriages[0].on).toBe('stuck')
  })

  test.each([
    ['down', GRAVITY, 0.15],
    ['level', 0, 0.15],
  ])('falls onto its stop (%s) after sqrt(2 s/a), loses its speed there and stays', (stores, gravity, stop) => {
    const changes = { stores, lowerStop: `${-stop} m`, upperStop: `${stop} m`, force: '20 N' }
    const run = alone(changes, -0.05, { duration: 1 })
    const a = 20 / 4 + gravity
    const landing = Math.sqrt((2 * 0.2) / a)
    expect(course(run, (t) => Math.min(stop, -0.05 + (a * t * t) / 2))).toBeLessThan(1e-6)
    expect(timeOf(run, 'stop touched')).toBeCloseTo(landing, 6)
    expect(run.line.carriages[0].on).toBe('upper stop')
    expect(run.y[run.line.carriages[0].state + 1]).toBe(0)
  })

  test('loses its speed on a stop that it swings onto, and swings back from there', () => {
    const changes = { stiffness: '200 N/m', force: '1 N', lowerStop: '-0.15 m' }
    const run = alone(changes, 0.19, { duration: 1 })
    const w = Math.sqrt(50)
    const landing = Math.acos(-0.155 / 0.185) / w
    const swing = (t: number) => 0.005 + 0.185 * Math.cos(w * t)
    const back = (t: number) => 0.005 - 0.155 * Math.cos(w * (t - landing))
    expect(course(run, (t) => (t < landing ? swing(t) : back(t)))).toBeLessThan(1e-6)
    expect(timeOf(run, 'stop touched')).toBeCloseTo(landing, 6)
    expect(timeOf(run, 'stop left')).toBe(timeOf(run, 'stop touched'))
  })

  test('time on a stop is told', () => {
    const run = alone({ upperStop: '0.1 m' }, 0, { duration: 1 })
    expect(finish(run).dancers[0].stopSeconds).toBeCloseTo(1 - Math.sqrt(0.2 / 5), 5)
  })
})

describe('on a stop', () => {
  const onStop = (friction: number) => {
    const changes = { upperStop: '0.1 m', slidingFriction: `${friction} N`, damping: '50 N s/m' }
    const setting: Setting = {
      line: [unwind(100), span(1, 0.002), dancer('dancer', changes), span(1, 0.002), rewind({ draw: '20 %' })],
      ...{ ...standing, stage: [{ at: '0.1 s', do: 'start', to: '0.02 m/s', in: '1 s' }], duration: 1.5, tick: 0.001 },
    }
    return runOf(setting, (point) => moveDancer(point, 0.1 + 1e-12, 50))
  }

  test.each([0, 8])('it stays until the strands pull more than force and friction of %d N', (friction) => {
    const run = onStop(friction)
    const seen: { time: number; pull: number; z: number }[] = []
    finish(run, ({ time, line, y }) => {
      seen.push({ time, pull: line.carriages[0].strandPull(), z: y[line.carriages[0].state] })
    })
    const left = timeOf(run, 'stop left')
    const before = seen.filter((s) => s.time <= left)
    const after = seen.filter((s) => s.time > left + 0.002)
    expect(before.length).toBeGreaterThan(100)
    for (const s of before) {
      expect(s.z).toBe(0.1)
      expect(s.pull).toBeLessThanOrEqual(200 + friction + 1e-6)
    }
    expect(before.at(-1)?.pull).toBeGreaterThan(200 + friction - 1)
    expect(after[0].z).toBeLessThan(0.1)
    expect(after.at(-1)?.z).toBeLessThan(0.099)
  })
})

test('a line at rest whose dancer sticks lets tension change by its friction before it moves', () => {
  const run = runOf({
    line: [
      ...[unwind(100), span(1, 0.002), dancer('dancer', { slidingFriction: '10 N', damping: '50 N s/m' })],
      ...[span(1, 0.002), rewind({ draw: '20 %' })],
    ],
    ...{ ...standing, stage: [{ at: '0 s', do: 'start', to: '0.02 m/s', in: '1 s' }], duration: 1.5, tick: 0.001 },
  })
  const state = run.line.carriages[0].state
  let pullBefore = 0
  finish(run, ({ line, y }) => {
    if (y[state] === 0) pullBefore = Math.max(pullBefore, line.carriages[0].strandPull())
  })
  expect(pullBefore).toBeGreaterThan(209)
  expect(pullBefore).toBeLessThanOrEqual(210 + 1e-6)
  expect(run.y[state]).toBeLessThan(-1e-3)
})

test('a start beyond its stops is told, with what to do', () => {
  const changes = { stiffness: '500 N/m', force: '300 N' }
  const line = new Line(scenarioOf({ ...one(changes), line: [unwind(60), ...one(changes).line.slice(1)] }))
  const start = operatingPoint(line)
  expect(start).toMatchObject({ ok: false, state: 'position of dancer' })
})

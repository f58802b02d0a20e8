/**
 * Drives against closed forms: a drive alone on slack film is a linear system of second order (textbook control; own derivation).
 */
import { describe, expect, test } from 'vitest'
import { finish, nip, pointOf, rewind, runOf, slacken, span, timeOf, unwind, type Entry, type Setting } from './rig'
import type { Run } from '../../src/run/run'

const INERTIA = 0.5
const RADIUS = 0.05

const setting = (drive: Entry, rest: Partial<Setting> = {}): Setting => ({
  line: [unwind(100), span(1), nip('nip', { inertia: `${INERTIA} kg m^2`, drive }), span(1), rewind()],
  ...rest,
})

/** The nip's drive with no film to pull: both spans hang slack throughout. */
function alone(drive: Entry, rest: Partial<Setting>): Run {
  return runOf(setting(drive, rest), (point) => {
    slacken(point, 50)
    for (const d of point.line.drives) {
      if ('state' in d) point.y[Number(d.state)] = 0
    }
  })
}

const ramp = (to: number, seconds: number) => [{ at: '0 s', do: 'speed', to: `${to} m/s`, in: `${seconds} s` }]
const servo = (changes: Entry = {}) => ({ kind: 'servo', bandwidth: '20 rad/s', torqueLimit: '1000 N m', ...changes })

/** Largest difference of the nip's surface speed from `expected` over the run, m/s. */
function difference(run: Run, expected: (t: number) => number): number {
  let largest = 0
  finish(run, ({ time, line: { rollers } }) => {
    largest = Math.max(largest, Math.abs(RADIUS * rollers.speed[1] - expected(time)))
  })
  return largest
}

describe('a servo alone', () => {
  const a = 0.5

  test('in a ramp, critically damped: lags by a t exp(-w t)', () => {
    const run = alone(servo(), { stage: ramp(3, 4), duration: 1 })
    expect(difference(run, (t) => 1 + a * t - a * t * Math.exp(-20 * t))).toBeLessThan(1e-7)
  })

  test.each([0.4, 0.8])('with damping ratio %d: lags by a exp(-z w t) sin(wd t)/wd', (z) => {
    const wd = 20 * Math.sqrt(1 - z * z)
    const run = alone(servo({ damping: z }), { stage: ramp(3, 4), duration: 1 })
    const lag = (t: number) => (a / wd) * Math.exp(-z * 20 * t) * Math.sin(wd * t)
    expect(difference(run, (t) => 1 + a * t - lag(t))).toBeLessThan(1e-7)
  })

  test('in the end turns with the torque that the ramp takes', () => {
    const run = alone(servo(), { stage: ramp(3, 4), duration: 2 })
    finish(run)
    expect(run.line.rollers.motor[1]).toBeCloseTo((INERTIA * a) / RADIUS, 6)
  })
})

describe('feed-forward', () => {
  const a = 0.5
  const followsRamp = (t: number) => 1 + a * t

  test('as long as the lag takes all error out of a ramp', () => {
    const run = alone({ kind: 'lag', lag: '200 ms', feedForward: '200 ms' }, { stage: ramp(3, 4), duration: 1 })
    expect(difference(run, followsRamp)).toBeLessThan(1e-9)
  })

  test('half as long leaves half the error of a lag, a (T - T_f) in the end', () => {
    const run = alone({ kind: 'lag', lag: '100 ms', feedForward: '50 ms' }, { stage: ramp(3, 4), duration: 1 })
    expect(difference(run, (t) => followsRamp(t) - 0.05 * a * (1 - Math.exp(-t / 0.1)))).toBeLessThan(1e-9)
  })

  test('of 1/(2 zeta w) takes all error out of the ramp of a servo', () => {
    const run = alone(servo({ feedForward: '25 ms' }), { stage: ramp(3, 4), duration: 1 })
    expect(difference(run, followsRamp)).toBeLessThan(1e-9)
  })
})

describe('a servo at its torque limit', () => {
  const limit = 3
  const limited = servo({ torqueLimit: `${limit} N m` })

  test('gives its limit and no more: the roller gains limit/J, however much is asked', () => {
    const run = alone(limited, { stage: ramp(3, 1), duration: 1, tick: 0.005 })
    const rates: number[] = []
    finish(run, ({ time, line: { rollers } }) => {
      expect(Math.abs(rollers.motor[1])).toBeLessThanOrEqual(limit)
      if (time > 0.2) rates.push(rollers.acceleration[1])
    })
    for (const rate of rates) expect(rate).toBeCloseTo(limit / INERTIA, 9)
  })

  test('does not wind up: the integral goes to the limit as exp(-w t/(2 z)), and overspeed afterwards stays small', () => {
    const run = alone(limited, { stage: ramp(3, 1), duration: 8, tick: 0.005 })
    const { state } = run.line.drives[1] as unknown as { state: number }
    let [from, atFrom, fastest] = [NaN, NaN, 0]
    finish(run, ({ time, y, line: { rollers } }) => {
      if (Number.isNaN(from) && rollers.motor[1] === limit) [from, atFrom] = [time, y[state]]
      if (time > from && time < 1) {
        expect(y[state]).toBeCloseTo(limit + (atFrom - limit) * Math.exp(-10 * (time - from)), 6)
      }
      fastest = Math.max(fastest, RADIUS * rollers.speed[1])
    })
    expect(from).toBeLessThan(0.2)
    expect(fastest).toBeLessThan(3.01)
    expect(RADIUS * run.line.rollers.speed[1]).toBeCloseTo(3, 5)
  })

  test('the same backward', () => {
    const run = alone(limited, { speed: 3, stage: ramp(1, 1), duration: 0.9 })
    finish(run)
    expect(run.line.rollers.motor[1]).toBe(-limit)
  })

  test('its share of the limit is told', () => {
    const { drives } = finish(alone(limited, { stage: ramp(3, 1), duration: 1 }))
    expect(drives[1]).toMatchObject({ name: 'nip', peakTorque: limit, limitShare: 1 })
    expect(drives[0].limitShare).toBeNull()
  })
})

test('a power limit allows torque in inverse proportion to the turn rate', () => {
  const run = alone(servo({ powerLimit: '100 W' }), { stage: ramp(3, 0.5), duration: 0.5, tick: 0.005 })
  let limited = 0
  finish(run, ({ line: { rollers } }) => {
    const power = rollers.motor[1] * rollers.speed[1]
    expect(power).toBeLessThanOrEqual(100 + 1e-9)
    if (power > 100 - 1e-9) limited++
  })
  expect(limited).toBeGreaterThan(50)
})

test('a lag follows a ramp by its time constant: v0 + a (t - T (1 - exp(-t/T)))', () => {
  const run = alone({ kind: 'lag', lag: '150 ms' }, { stage: ramp(3, 2), duration: 1 })
  expect(difference(run, (t) => 1 + (t - 0.15 * (1 - Math.exp(-t / 0.15))))).toBeLessThan(1e-7)
})

test('an ideal drive runs exactly as asked, on a roll that shrinks too', () => {
  const run = runOf(setting({ kind: 'ideal' }, { stage: ramp(3, 2), duration: 2, rounding: 0.25 }))
  finish(run, ({ time, line: { rollers, courses } }) => {
    for (const i of [0, 1, 2]) expect(rollers.radius[i] * rollers.speed[i]).toBeCloseTo(courses.line.speedAt(time), 12)
  })
  expect(run.line.rollers.radius[0]).toBeLessThan(0.2 - 1e-4)
})

test.each(['ideal', 'lag', 'servo'])('%s: the turn rate changes at the rate that is told', (kind) => {
  const drive = { ideal: { kind }, lag: { kind, lag: '50 ms' }, servo: servo() }[kind] ?? {}
  const heavy = { inertia: `${INERTIA} kg m^2`, drive }
  const line = [
    unwind(100, { drive, diameter: '91 mm' }),
    span(1, 0.002),
    nip('nip', heavy),
    span(1, 0.002),
    rewind({ drive }),
  ]
  const run = runOf({ line, stage: ramp(3, 1), duration: 0.6, tick: 1e-3 })
  const rows: number[][] = []
  const rates: number[][] = []
  finish(run, ({ line: { rollers } }) => {
    rows.push(Array.from(rollers.speed))
    rates.push(Array.from(rollers.acceleration))
  })
  for (let k = 300; k < rows.length - 1; k += 50) {
    rates[k].forEach((rate, i) => {
      const slope = (rows[k + 1][i] - rows[k - 1][i]) / 2e-3
      expect(Math.abs(slope - rate)).toBeLessThan(1e-3 * (1 + Math.abs(rate)))
    })
  }
})

describe('a brake', () => {
  const braked = (torque: number, changes: Entry = {}) =>
    unwind(100, { drive: { kind: 'brake', torque: `${torque} N m` }, ...changes })
  const line = (torque: number, rest: Entry = {}) => [
    braked(torque, rest),
    span(1, 0.01),
    nip('nip'),
    span(1),
    rewind(),
  ]

  test('holds film at torque over radius, drag included', () => {
    const { spans } = pointOf({ line: line(20, { drag: '2 N m' }) }).line
    expect(spans.force[0]).toBeCloseTo(22 / 0.2, 6)
  })

  test('opposes motion only: it never turns the roll, and at rest holds no more than it is pulled with', () => {
    const run = runOf({ line: line(40), stage: [{ at: '0.2 s', do: 'stop', in: '1 s' }], duration: 4 })
    finish(run, ({ line: { rollers } }) => {
      expect(rollers.motor[0] * rollers.speed[0]).toBeLessThanOrEqual(0)
      expect(rollers.speed[0]).toBeGreaterThanOrEqual(0)
    })
    timeOf(run, 'sticks', 'unwind')
    expect(run.line.rollers.mode[0]).toBe(0)
    expect(run.line.spans.force[0]).toBeLessThan(200)
  })

  test('lets go when the film pulls with more than it has', () => {
    const start = [{ at: '0 s', do: 'start', to: '0.5 m/s', in: '2 s' }]
    const run = runOf({ line: line(40), speed: 0, threading: 100, stage: start, duration: 2, tick: 1e-3 })
    let before = 0
    finish(run, ({ line: { rollers, spans } }) => {
      if (rollers.mode[0] === 0) before = Math.max(before, spans.force[0])
    })
    expect(before).toBeLessThanOrEqual(200 + 1e-6)
    expect(before).toBeGreaterThan(190)
    timeOf(run, 'turns', 'unwind')
  })
})

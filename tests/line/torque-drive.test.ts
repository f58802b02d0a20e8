/**
 * Rolls that are driven by torque: what is compensated shows in the film or not, limits, and load cells that read wrong. Newton;
 * closed forms own derivation.
 */
import { describe, expect, test } from 'vitest'
import { evaluate, finish, idler, nip, rewind, runOf, span, unwind, type Entry, type Setting } from './rig'

const torque = (changes: Entry = {}): Entry => ({ drive: { kind: 'torque', tension: '120 N', ...changes } })

/** Half a second into a straight ramp of 1 m/s^2 (0 m/s^2: steady) that begins at 1 m/s. */
const ramp = (line: readonly Entry[], acceleration: number): Setting => ({
  line,
  ...{ duration: 0.6, tick: 0.01 },
  stage: acceleration === 0 ? [] : [{ at: '0.1 s', do: 'speed', to: `${1 + acceleration} m/s`, in: '1 s' }],
})

const winder = (changes: Entry, roll: Entry = {}) => [
  ...[unwind(100), span(1), nip('nip'), span(0.5, 0.005)],
  rewind({ ...torque(changes), ...roll }),
]
const holding = (changes: Entry, roll: Entry = {}) => [
  unwind(120, { ...torque(changes), ...roll }),
  ...[span(0.5, 0.005), nip('nip'), span(1), rewind()],
]

/**
 * Tension of the film on the roll less what it takes to turn a changing radius with a steady surface, J v^2 h/(2 pi R^4); and what
 * inertia in a ramp and drag ask for there, N.
 */
function atRoll(line: readonly Entry[], acceleration: number, roll: 'winder' | 'unwind') {
  const run = runOf(ramp(line, acceleration))
  finish(run)
  const { rollers, spans } = evaluate(run)
  const i = roll === 'winder' ? rollers.count - 1 : 0
  const radius = rollers.radius[i]
  const speed = radius * rollers.speed[i]
  const growth = (rollers.inertia[i] * speed ** 2 * 50e-6) / (2 * Math.PI * radius ** 4)
  return {
    force: spans.force[roll === 'winder' ? i - 1 : 0] - growth,
    inertia: (rollers.inertia[i] * acceleration) / radius ** 2,
    drag: (0.6 + 0.05 * rollers.speed[i]) / radius,
    motor: rollers.motor[i],
    radius,
  }
}

const dragging = { drag: '0.6 N m', viscousDrag: '0.05 N m s' }

test.each([
  ['200 mm', 0],
  ['360 mm', 0],
  ['200 mm', 1],
])('as a slip clutch it gives one torque, of tension x radius at the core, at %s and %d m/s^2', (diameter, a) => {
  const clutch = { law: 'hyperbolic', taper: '100 %', inertiaCompensation: '0 %', dragCompensation: '0 %' }
  const { motor, force, inertia, drag, radius } = atRoll(
    winder(clutch, { diameter, core: '80 mm', ...dragging }),
    a,
    'winder',
  )
  expect(motor).toBeCloseTo(120 * 0.04, 9)
  expect(force / ((120 * 0.04) / radius - inertia - drag)).toBeCloseTo(1, 2)
})

describe.each([
  ['winder', winder, -1],
  ['unwind', holding, 1],
] as const)('%s', (roll, line, sign) => {
  test.each([1, -0.5])('compensated in full, a ramp of %d m/s^2 does not show in the film', (a) => {
    const { force, inertia } = atRoll(line({}), a, roll)
    expect(Math.abs(inertia)).toBeGreaterThan(1)
    expect(Math.abs(force - 120) / Math.abs(inertia)).toBeLessThan(0.005)
  })

  test.each([
    [0, 1],
    [0.4, 1],
    [1.5, 1],
    [0, -0.5],
  ])('told a share of %d of its inertia, the film pays the rest (%d m/s^2)', (share, a) => {
    const { force, inertia } = atRoll(line({ inertiaCompensation: `${100 * share} %` }), a, roll)
    expect((force - 120) / (sign * (1 - share) * inertia)).toBeCloseTo(1, 2)
  })

  test.each([0, 0.5, 1, 1.2])('told a share of %d of its drag, the film pays the rest', (share) => {
    const { force, drag } = atRoll(line({ dragCompensation: `${100 * share} %` }, dragging), 0, roll)
    expect(force - 120).toBeCloseTo(sign * (1 - share) * drag, 2)
  })

  test('torque limit', () => {
    const { force, motor, radius } = atRoll(line({ torqueLimit: '4 N m' }), 0, roll)
    expect(motor).toBeCloseTo(-sign * 4, 12)
    expect(force).toBeCloseTo(4 / radius, 2)
  })

  test('power limit: force times speed', () => {
    const { force } = atRoll(line({ powerLimit: '60 W' }), 0, roll)
    expect(force).toBeCloseTo(60, 1)
  })

  test('at rest it holds its tension', () => {
    const run = runOf({ line: line({}, { drag: '0.1 N m' }), speed: 0, duration: 0.2 })
    finish(run)
    const { rollers, spans } = evaluate(run)
    const at = roll === 'winder' ? rollers.count - 2 : 0
    expect(spans.force[at]).toBeCloseTo(120, 6)
  })
})

test('an unwind on torque tapers with its own diameter', () => {
  const taper = { law: 'hyperbolic', taper: '40 %', fullDiameter: '500 mm' }
  const { force } = atRoll(holding(taper), 0, 'unwind')
  expect(force).toBeCloseTo(120 * (1 - 0.4 * (1 - 0.045 / 0.2)), 2)
})

describe('a load cell that reads wrong shifts the tension by exactly that', () => {
  const cell = idler('cell', { wrap: '120 deg' })
  const trimmed = (kind: 'speed' | 'torque', changes: Entry): Setting => {
    const gains =
      kind === 'speed'
        ? { gain: '0.0002 m/s/N', integral: '0.001 m/s/(N s)' }
        : { gain: '40 %', integral: '2 1/s', limit: '60 N' }
    const drives = kind === 'speed' ? 'unwind' : 'rewind'
    const control = [{ control: 'tension trim', measures: 'cell', drives, kind, tension: '90 N', ...gains, ...changes }]
    return kind === 'speed'
      ? { line: [unwind(80), span(1), cell, span(1), nip('nip'), span(1), rewind()], control }
      : { line: [unwind(80), span(1), nip('nip'), span(1), cell, span(1), rewind(torque())], control }
  }

  test.each(['speed', 'torque'] as const)('by %s', (kind) => {
    const tension = (changes: Entry) => {
      const { spans } = evaluate(runOf(trimmed(kind, changes)))
      return kind === 'speed' ? spans.force[0] : spans.force[2]
    }
    expect(tension({})).toBeCloseTo(90, 6)
    expect(tension({ gainError: '2 %' })).toBeCloseTo(90 / 1.02, 6)
    expect(tension({ tare: '-1.5 N' })).toBeCloseTo(91.5, 6)
    expect(tension({ gainError: '-3 %', tare: '2 N' })).toBeCloseTo(88 / 0.97, 6)
  })

  test('without an integral part tension stands off: F = F_set - Kp (F - 90 N)', () => {
    const { spans } = evaluate(runOf(trimmed('torque', { integral: undefined })))
    expect(spans.force[2]).toBeCloseTo((120 + 0.4 * 90) / 1.4, 6)
  })

  test('at rest it shows the tension of the standing film from the first instant', () => {
    const run = runOf({ ...trimmed('torque', { tare: '1 N' }), speed: 0, duration: 0.5, threading: 90 })
    const { line, y } = run
    const state = line.stateNames.indexOf('tension measured at cell')
    expect(y[state]).toBeCloseTo(121, 6)
  })
})

test('a winder at rest starts against its drag at once: the film need not slacken by drag/R first', () => {
  const line = winder({}, { drag: '4 N m' })
  const run = runOf({ line, speed: 0, stage: [{ at: '0.1 s', do: 'start', to: '1 m/s', in: '2 s' }], duration: 1 })
  let least = Infinity
  finish(run, ({ line: { spans } }) => (least = Math.min(least, spans.force[1])))
  // drag/R is 40 N, more than the inertia that is compensated
  expect(least).toBeGreaterThan(118)
})

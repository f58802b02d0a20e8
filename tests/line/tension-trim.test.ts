/** Tension trim: what its load cell sees, and that its law brings the film to the set point from either side. Statics, PI law. */
import { describe, expect, test } from 'vitest'
import { EA, evaluate, finish, idler, nip, pointOf, rewind, runOf, span, unwind, type Entry, type Setting } from './rig'
import { TensionTrim } from '../../src/line/tension-trim'

const bySpeed = (drives: string, changes: Entry = {}): Entry => ({
  ...{ control: 'tension trim', measures: 'cell', drives, kind: 'speed', tension: '160 N' },
  ...{ gain: '0.0001 m/s/N', integral: '0.0003 m/s/(N s)', ...changes },
})
const byTorque = (drives: string, changes: Entry = {}): Entry => ({
  ...{ control: 'tension trim', measures: 'cell', drives, kind: 'torque', tension: '160 N' },
  ...{ gain: '50 %', integral: '3 1/s', limit: '100 N', ...changes },
})

/** The load cell lies between the unwind and the nip, or between the nip and the rewind. */
function lineOf(where: 'before' | 'behind', ends: { unwind?: Entry; rewind?: Entry }, cell: Entry = {}): Entry[] {
  const zone = [span(0.6, 0.002), idler('cell', { wrap: '90 deg', ...cell }), span(0.5, 0.002)]
  const [first, second] = where === 'before' ? [zone, [span(1)]] : [[span(1)], zone]
  return [unwind(100, ends.unwind), ...first, nip('nip'), ...second, rewind(ends.rewind)]
}

function ended(setting: Setting) {
  const run = runOf({ duration: 25, tick: 0.05, ...setting })
  finish(run)
  return { run, force: evaluate(run).spans.force, rollers: run.line.rollers }
}

const trimOf = (setting: Setting) => {
  const point = pointOf(setting)
  const trim = point.line.drives.flatMap((d) => (d.reference?.trim instanceof TensionTrim ? [d.reference.trim] : []))[0]
  return { ...point, trim }
}

describe('by speed', () => {
  test.each([
    ['unwind', 'before', 0],
    ['nip', 'before', 0],
    ['rewind', 'behind', 1],
  ] as const)('of the %s, %s the nip: the film comes to the set point', (drives, where, cell) => {
    const { force } = ended({ line: lineOf(where, {}), control: [bySpeed(drives)] })
    expect(force[cell]).toBeCloseTo(160, 3)
    expect(force[cell + 1]).toBeCloseTo(160, 3)
  })

  test('a proportional trim leaves what its gain needs', () => {
    const gain = 4e-6
    const control = [bySpeed('nip', { gain: `${gain} m/s/N`, integral: '0 m/s/(N s)' })]
    const { force } = ended({ line: lineOf('before', {}), control })
    // strain follows speed: (1 + F/EA) = (1 + 100/EA) (1 + gain (160 - F)) at 1 m/s
    const stretch = 1 + 100 / EA
    const expected = (stretch * (1 + 160 * gain) - 1) / (1 / EA + stretch * gain)
    expect(force[0]).toBeCloseTo(expected, 3)
    expect(expected).toBeGreaterThan(120)
    expect(expected).toBeLessThan(140)
  })

  test('adds no more than its limit', () => {
    const { force, rollers } = ended({ line: lineOf('before', {}), control: [bySpeed('nip', { limit: '0.0001 m/s' })] })
    expect(rollers.speed[2] * rollers.radius[2]).toBeCloseTo(1.0001, 9)
    expect(force[0]).toBeCloseTo(EA * ((1 + 100 / EA) * 1.0001 - 1), 3)
  })

  test('does not wind up at its limit: it leaves it as soon as the set point can be reached', () => {
    const stage: Entry[] = [{ at: '10 s', do: 'winding tension', roller: 'nip', to: '110 N', in: '0.1 s' }]
    const control = [bySpeed('nip', { tension: '900 N', limit: '0.0001 m/s' })]
    const { force } = ended({ line: lineOf('before', {}), control, stage, duration: 16 })
    expect(force[0]).toBeCloseTo(110, 2)
  })
})

describe('by torque', () => {
  const drive = { kind: 'torque', tension: '100 N', torqueLimit: '500 N m', dragCompensation: '0 %' }

  test('of a winder whose drag is not compensated: 100 N are asked for, the trim brings the set point', () => {
    const line = lineOf('behind', { rewind: { drive, drag: '3 N m' } })
    const { force } = ended({ line, control: [byTorque('rewind')] })
    // the roll grows: the integral follows by a hair
    expect(force[1]).toBeCloseTo(160, 1)
  })

  test('of an unwind that holds back by torque', () => {
    // gently: film and roll swing at 48 rad/s, where the filter of the load cell is late
    const line = lineOf('before', { unwind: { drive, drag: '3 N m' } })
    const { force } = ended({ line, control: [byTorque('unwind', { gain: '5 %', integral: '0.5 1/s' })] })
    expect(force[0]).toBeCloseTo(160, 1)
  })

  test('adds no more newtons than its limit', () => {
    const line = lineOf('behind', { rewind: { drive } })
    const { force } = ended({ line, control: [byTorque('rewind', { limit: '20 N' })] })
    expect(force[1]).toBeCloseTo(120, 1)
  })
})

describe('the load cell', () => {
  test('shows the mean of both spans: where the roller has drag they lie on either side of the set point', () => {
    const { force } = ended({ line: lineOf('before', {}, { drag: '0.5 N m' }), control: [bySpeed('nip')] })
    expect(force[0]).toBeCloseTo(155, 3)
    expect(force[1]).toBeCloseTo(165, 3)
  })

  test('misleads by its gain error and its tare', () => {
    const { force } = ended({
      line: lineOf('before', {}),
      control: [bySpeed('nip', { gainError: '10 %', tare: '6 N' })],
    })
    expect(force[0]).toBeCloseTo((160 - 6) / 1.1, 3)
  })

  test('follows through its filter', () => {
    const { line, y, trim } = trimOf({ line: lineOf('before', {}), control: [bySpeed('nip', { filter: '200 ms' })] })
    const { state } = trim
    y[state] = 110
    const dy = line.rates(0, y)
    const tension = (line.spans.force[0] + line.spans.force[1]) / 2
    expect(dy[state]).toBeCloseTo((tension - 110) / 0.2, 9)
  })
})

test('its set point tapers with the diameter of the winder', () => {
  for (const [diameter, share] of [
    ['90 mm', 1],
    ['180 mm', 0.75],
    ['360 mm', 0.625],
  ] as const) {
    const line = lineOf('behind', { rewind: { diameter } })
    const control = [bySpeed('rewind', { law: 'hyperbolic', taper: '50 %', fullDiameter: '400 mm' })]
    const { force, run } = ended({ line, control, speed: 0.2, duration: 60, tick: 0.1 })
    const radius = run.line.rewindRoll.mean
    expect(force[1]).toBeCloseTo(160 * (1 - 0.5 * (1 - 0.045 / radius)), 1)
    expect(Math.abs(force[1] / 160 - share)).toBeLessThan(0.03)
  }
})

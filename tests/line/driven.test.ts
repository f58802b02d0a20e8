/** A driven roller: what it feeds, and what that takes. Kinematics and Newton; conservation of film. */
import { describe, expect, test } from 'vitest'
import { EA, finish, idler, nip, pointOf, rewind, runOf, span, unwind, type Entry } from './rig'

const line = (changes: Entry, rest: Entry = {}) => [
  ...[unwind(100), span(1), nip('nip 1'), span(1.5), nip('nip 2', changes), span(1), rewind(rest)],
]
const strain = (changes: Entry, rest: Entry = {}, j = 1) =>
  pointOf({ line: line(changes, rest) }).line.spans.force[j] / EA
const entering = 1 + 100 / EA

describe('strain between two driven rollers', () => {
  test.each([0.0003, 0.01, -0.0002])('draw %d multiplies the stretch that comes in', (draw) => {
    expect(strain({ draw: `${100 * draw} %` }, { draw: '5 %' })).toBeCloseTo(entering * (1 + draw) - 1, 10)
  })

  test('a feed error does the same, though the drive knows nothing of it', () => {
    expect(strain({ feedError: '0.2 %' }, { draw: '5 %' })).toBeCloseTo(entering * 1.002 - 1, 10)
    expect(strain({ feedError: '0.2 %', draw: '-0.1 %' }, { draw: '5 %' })).toBeCloseTo(
      entering * 1.002 * 0.999 - 1,
      10,
    )
  })

  test('one of both rollers small by as much takes it back', () => {
    const both = [
      ...[unwind(100), span(1), nip('nip 1', { feedError: '0.2 %' }), span(1.5), nip('nip 2', { feedError: '0.2 %' })],
      ...[span(1), rewind({ draw: '5 %' })],
    ]
    const { force } = pointOf({ line: both }).line.spans
    expect(force[1]).toBeCloseTo(force[0], 8)
  })
})

describe('its torque', () => {
  const heavy = { inertia: '0.04 kg m^2', drag: '0.3 N m', viscousDrag: '0.01 N m s' }

  test('holds the difference of tensions and its drag, at the radius that really feeds', () => {
    const built = pointOf({ line: line({ ...heavy, draw: '0.1 %', feedError: '1 %' }, { draw: '1.2 %' }) }).line
    const { spans, rollers } = built
    const radius = 0.05 * 1.01
    expect(rollers.speed[2]).toBeCloseTo(1.001 / 0.05, 10)
    expect(rollers.motor[2]).toBeCloseTo(radius * (spans.force[1] - spans.force[2]) + 0.3 + 0.01 * rollers.speed[2], 8)
    expect(spans.force[1]).toBeGreaterThan(spans.force[0] + 2000)
  })

  test('in a ramp adds J a/R', () => {
    const stage = [{ at: '0 s', do: 'speed', to: '3 m/s', in: '2 s' }]
    const run = runOf({ line: line(heavy), stage, duration: 1 })
    finish(run)
    const { spans, rollers } = run.line
    const steady = 0.05 * (spans.force[1] - spans.force[2]) + 0.3 + 0.01 * rollers.speed[2]
    expect(rollers.motor[2] - steady).toBeCloseTo((0.04 * 1) / 0.05, 10)
  })

  test.each(['ideal', 'lag'])('after a start from rest includes its drag (%s)', (kind) => {
    const drive = kind === 'lag' ? { kind, lag: '20 ms' } : { kind }
    const stage = [{ at: '0.1 s', do: 'start', to: '1 m/s', in: '0.5 s' }]
    const run = runOf({ line: line({ ...heavy, drive }), speed: 0, threading: 100, stage, duration: 3 })
    finish(run)
    const { spans, rollers } = run.line
    const expected = 0.05 * (spans.force[1] - spans.force[2]) + 0.3 + 0.01 * rollers.speed[2]
    expect(rollers.motor[2]).toBeCloseTo(expected, 6)
  })
})

test('half of the film on its wrap lies in either span; a nip has no grip margin, a wrapped roller has', () => {
  const wrapped = { wrap: '180 deg', nip: false, friction: 0.4, draw: '0.1 %' }
  const setting = { line: line(wrapped, { draw: '0.1 %' }), duration: 0.1 }
  const { line: built } = pointOf(setting)
  expect(built.spans.length[1]).toBeCloseTo(1.5 + (Math.PI * 0.05) / 2, 14)
  const { rollers } = finish(runOf(setting))
  expect(rollers.map((r) => r.tractionMargin === null)).toEqual([true, true, false, true])
  const ratio = Math.log(built.spans.force[1] / built.spans.force[2])
  expect(rollers[2].tractionMargin).toBeCloseTo(1 - Math.abs(ratio) / (0.4 * Math.PI), 4)
})

test('between idlers it is where the tension changes; what follows it keeps its own', () => {
  const parts = [
    ...[unwind(100), span(1), idler('idler 1'), span(1), nip('nip', { draw: '0.2 %' }), span(1), idler('idler 2')],
    ...[span(1), rewind({ draw: '0.3 %' })],
  ]
  const { force } = pointOf({ line: parts }).line.spans
  const expected = [1.002, 1.002, 1.003, 1.003].map((share) => EA * (entering * share - 1))
  Array.from(force).forEach((tension, j) => expect(tension).toBeCloseTo(expected[j], 5))
})

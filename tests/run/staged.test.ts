/** Settings led by the stage, in runs: where the line stands before and after follows from statics and from the speeds. */
import { describe, expect, test } from 'vitest'
import { dancer, EA, evaluate, finish, nip, rewind, runOf, span, trim, unwind, type Entry } from '../line/rig'

const torque = { drive: { kind: 'torque', tension: '120 N', law: 'linear', taper: '0 %', fullDiameter: '290 mm' } }
const event = (what: string, more: Entry): Entry => ({ at: '1 s', do: what, in: '0.5 s', ...more })

test('a draw arrives: strain adds to what comes in, and goes again behind the next roller', () => {
  const line = [unwind(100), span(0.5), nip('nip 1'), span(0.5), nip('nip 2'), span(0.5), rewind()]
  const stage = [event('draw', { roller: 'nip 1', to: '0.05 %' })]
  const run = runOf({ line, stage, duration: 10, tick: 0.02 })
  finish(run, ({ time, line: { rollers } }) => {
    // linear but for a quarter of the time at either end: halfway at half time
    if (Math.abs(time - 1.26) < 0.011) expect(rollers.speed[1] * rollers.radius[1]).toBeCloseTo(1.00026, 4)
    if (time < 1) expect(rollers.speed[1] * rollers.radius[1]).toBe(1)
  })
  const { force } = evaluate(run).spans
  expect(force[0]).toBeCloseTo(EA * ((1 + 100 / EA) * 1.0005 - 1), 4)
  expect(force[1]).toBeCloseTo(100, 3)
  expect(run.line.rollers.speed[1] * run.line.rollers.radius[1]).toBeCloseTo(1.0005, 12)
})

describe('a dancer', () => {
  const line = [
    ...[unwind(100), span(0.6, 0.002), dancer('dancer', { damping: '60 N s/m', drag: '0 N m' }), span(0.4, 0.002)],
    ...[nip('nip'), span(0.5), rewind()],
  ]
  const control = [trim('dancer', 'unwind', { gain: '4 1/s', integral: '4 1/s^2' })]

  test('with another force: both strands pull half of it', () => {
    const stage = [event('dancer force', { dancer: 'dancer', to: '260 N' })]
    const run = runOf({ line, control, stage, duration: 10 })
    finish(run, ({ time, line: { carriages } }) => {
      if (time < 1) expect(carriages[0].force).toBe(200)
      if (time >= 1.5) expect(carriages[0].force).toBeCloseTo(260, 12)
    })
    const { force } = evaluate(run).spans
    expect(force[0]).toBeCloseTo(130, 2)
    expect(force[1]).toBeCloseTo(130, 2)
  })

  test('with another set point: its trim brings it there, and the film for it comes from the unwind', () => {
    const stage = [event('set point', { dancer: 'dancer', to: '50 mm' })]
    const run = runOf({ line, control, stage, duration: 14 })
    const before = run.line.held(run.y)
    const { dancers } = finish(run)
    expect(dancers[0].start).toBeCloseTo(0, 9)
    expect(dancers[0].end).toBeCloseTo(0.05, 4)
    expect(run.line.held(run.y) - before).toBeCloseTo((2 * 0.05) / (1 + 100 / EA), 4)
  })

  test('emptied by a zero-speed splice, is not refilled by its trim while the unwind stands', () => {
    const splice: Entry = {
      ...{ at: '0.5 s', do: 'zero-speed splice', film: 'A', rampDown: '0.3 s', hold: '0.4 s', rampUp: '0.3 s' },
      ...{ refill: '50 %', patch: '0 mm', roll: { diameter: '400 mm', woundTension: '100 N' } },
    }
    const run = runOf({ line, control, stage: [splice], speed: 0.2, duration: 4 })
    const { dancers } = finish(run, ({ time, line: { rollers } }) => {
      if (time > 0.81 && time < 1.19) expect(Math.abs(rollers.speed[0])).toBeLessThan(1e-12)
    })
    // 0.2 m/s for 0.15 + 0.4 + 0.15 s, from two strands
    expect(dancers[0].min).toBeCloseTo(-0.07, 3)
    expect(dancers[0].end).toBeCloseTo(0, 3)
  })

  test('without a trim a new set point is refused: nobody would follow it', () => {
    const stage = [event('set point', { dancer: 'dancer', to: '50 mm' })]
    expect(() => runOf({ line, stage, duration: 3 })).toThrow(/set point\/dancer: found "dancer", .*position trim/)
  })
})

describe('a winder on torque', () => {
  const line = [unwind(100), span(0.5, 0.002), nip('nip'), span(0.5, 0.002), rewind(torque)]

  test('goes to another tension', () => {
    const run = runOf({ line, stage: [event('winding tension', { roller: 'rewind', to: '80 N' })], duration: 4 })
    const { spans } = finish(run)
    expect(spans[1].tension.start).toBeCloseTo(120, 4)
    expect(spans[1].tension.end).toBeCloseTo(80, 1)
  })

  test('and to another taper: half way to the full roll half of it counts', () => {
    // core 90, roll 190, full 290 mm
    const half = [...line.slice(0, -1), rewind({ ...torque, diameter: '190 mm' })]
    const stage = [event('winding tension', { roller: 'rewind', to: '100 N', taper: '40 %' })]
    const run = runOf({ line: half, stage, duration: 4 })
    const { spans } = finish(run)
    expect(spans[1].tension.start).toBeCloseTo(120, 4)
    expect(spans[1].tension.end).toBeCloseTo(80, 0)
  })
})

test('events at one instant all act, each is told once, in the order of the stage', () => {
  const line = [unwind(100), span(0.5, 0.002), nip('nip'), span(0.5, 0.002), rewind(torque)]
  const stage = [
    event('draw', { roller: 'nip', to: '0.02 %' }),
    event('winding tension', { roller: 'rewind', to: '90 N' }),
    event('free strain', { film: 'A', to: '0.01 %' }),
  ]
  const run = runOf({ line, stage, duration: 6 })
  const { spans } = finish(run)
  const told = run.happenings.filter((h) => h.what === 'event').map(({ at, part, say }) => [at, part, say])
  expect(told).toEqual([
    [1, 'nip', 'The draw of nip changes.'],
    [1, 'rewind', 'The winding tension of rewind changes.'],
    [1, 'line', 'A changes its free strain.'],
  ])
  expect(spans[0].tension.end).toBeCloseTo(100 + EA * 1e-4, 1)
  expect(spans[1].tension.end).toBeCloseTo(90, 1)
})

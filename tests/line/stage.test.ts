/** Staged events: what they make of the speeds, and what a splice makes of the line. Kinematics and conservation of film. */
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { Profile } from '../../src/line/profile'
import { Courses } from '../../src/line/courses'
import { rampDuration, spliceTimes, type StageEvent, type ZeroSpeedSplice } from '../../src/line/stage'
import { dancer, EA, finish, idler, nip, pet, rewind, runOf, span, timeOf, unwind, type Entry } from './rig'

const speed = { start: 2, acceleration: 0.5, rounding: 0.25, threadingTension: 100 }

/** m that a point of speed `profile` travels; between corners Simpson's rule is exact. */
function travel(profile: Profile, from: number, to: number): number {
  const corners = [from, ...profile.corners().filter((t) => t > from && t < to), to]
  let sum = 0
  for (let k = 1; k < corners.length; k++) {
    const [a, b] = [corners[k - 1], corners[k]]
    sum += ((b - a) / 6) * (profile.speedAt(a) + 4 * profile.speedAt((a + b) / 2) + profile.speedAt(b))
  }
  return sum
}

describe('ramps', () => {
  test('take what is stated, or what the acceleration gives, and never no time at all', () => {
    expect(rampDuration({ in: 7, to: 5 }, 2, speed)).toBe(7)
    expect(rampDuration({ to: 5 }, 2, speed)).toBe(6)
    expect(rampDuration({ to: 0 }, 2, speed)).toBe(4)
    expect(rampDuration({ to: 2 }, 2, speed)).toBeGreaterThan(0)
  })

  test('start, speed and stop move line and unwind alike', () => {
    const stage: StageEvent[] = [
      { do: 'speed', at: 1, to: 3, in: 2 },
      { do: 'stop', at: 5, in: 1, rounding: 0 },
      { do: 'start', at: 8, to: 1 },
    ]
    const { line, unwind: roll } = new Courses(speed, stage, 20)
    const course = [0, 1, 2, 3, 5, 5.5, 6, 8, 9, 10].map((t) => line.speedAt(t))
    expect(course).toEqual([2, 2, 2.5, 3, 3, 1.5, 0, 0, 0.5, 1])
    expect(line.corners()).toEqual(roll.corners())
    expect(course).toEqual([0, 1, 2, 3, 5, 5.5, 6, 8, 9, 10].map((t) => roll.speedAt(t)))
  })
})

const newRoll = { diameter: 0.5, core: 0.09, coreInertia: 0.02, woundTension: 80, spanChange: 0, preset: undefined }
const zeroSpeed = (changes: Partial<ZeroSpeedSplice>): ZeroSpeedSplice => ({
  ...{ do: 'zero-speed splice', at: 1, film: 'B', patch: 0.05, roll: newRoll },
  ...{ rampDown: 1.5, hold: 2, rampUp: 1, refill: 0.2, ...changes },
})

describe('a zero-speed splice', () => {
  const double = (min: number, max: number) => fc.double({ min, max, noNaN: true })
  const any = fc.record({
    splice: fc.record({
      ...{ rampDown: double(0.1, 5), hold: double(0.1, 10), rampUp: double(0.1, 5), refill: double(0.02, 1) },
    }),
    ...{ v: double(0.05, 10), rounding: double(0, 0.5) },
  })

  test('refills exactly what it gave: the areas between line speed and unwind speed cancel', () => {
    fc.assert(
      fc.property(any, ({ splice, v, rounding }) => {
        const event = zeroSpeed(splice)
        const times = spliceTimes(event)
        fc.pre(times.back > times.over)
        const { line, unwind: roll } = new Courses({ ...speed, start: v, rounding }, [event], 1000)
        const end = 1 + times.end
        const passed = v * times.end
        expect(travel(line, 1, end)).toBeCloseTo(passed, 9)
        expect(Math.abs(travel(roll, 1, end) - passed)).toBeLessThan(1e-12 * passed + 1e-12)
        expect(roll.speedAt(end + 1)).toBe(v)
      }),
      { seed: 1 },
    )
  })

  test('stands while it holds, is pasted in the middle, comes back at the stated overspeed', () => {
    const event = zeroSpeed({})
    const times = spliceTimes(event)
    const { unwind: roll } = new Courses(speed, [event], 60)
    expect(times.paste).toBe(2.5)
    expect([2.5, 3, 3.5, 4.5].map((t) => roll.speedAt(t))).toEqual([0, 0, 0, 0])
    expect(times.rise).toBe(3.5)
    expect(times.over).toBeCloseTo(4.7, 12)
    expect(roll.speedAt(1 + (times.over + times.back) / 2)).toBeCloseTo(2.4, 12)
    // 2 m/s for 0.75 + 2 + 0.5 s, less 0.04 s for the rise to and the fall from the overspeed, at 0.4 m/s
    expect(times.back - times.over).toBeCloseTo((3.25 - 0.04) / 0.2, 10)
    expect(roll.speedAt(1 + times.end)).toBe(2)
  })

  test('where the ramps alone would refill too much, the overspeed is what they need', () => {
    const times = spliceTimes(zeroSpeed({ rampDown: 0.2, hold: 0.1, rampUp: 4, refill: 1 }))
    expect(times.back).toBe(times.over)
    // given (0.1 + 0.1 + 2) v; refilled by the triangle above line speed, x 2 x T_u/2 of x v
    expect(times.refill ** 2 * 4).toBeCloseTo(2.2, 12)
    expect(times.refill).toBeLessThan(1)
  })

  test('without a refill it only comes back to line speed', () => {
    const event = zeroSpeed({ refill: 0 })
    const times = spliceTimes(event)
    expect(times.end).toBe(4.5)
    const { unwind: roll } = new Courses(speed, [event], 60)
    expect(roll.speedAt(10)).toBe(2)
    expect(2 * 5 - travel(roll, 1, 6)).toBeCloseTo(2 * 3.25, 9)
  })

  test('in a run: the dancer gives half the missing film and stands where it stood when all is over', () => {
    const splice: Entry = {
      ...{ at: '0.5 s', do: 'zero-speed splice', film: 'A', rampDown: '0.5 s', hold: '0.4 s', rampUp: '0.5 s' },
      ...{ refill: '60 %', patch: '0 mm', roll: { diameter: '500 mm', woundTension: '100 N' } },
    }
    const line = [unwind(100), span(1, 0.002), dancer('dancer'), span(1, 0.002), nip('nip'), span(1), rewind()]
    const run = runOf({ line, speed: 0.25, stage: [splice], duration: 4 })
    const { dancers } = finish(run)
    const given = 0.25 * (0.25 + 0.4 + 0.25)
    expect(dancers[0].min).toBeCloseTo(-given / 2, 3)
    expect(dancers[0].end).toBeCloseTo(0, 4)
    expect(run.line.rollers.radius[0]).toBeGreaterThan(0.249)
    expect(timeOf(run, 'splice')).toBeCloseTo(1.2, 9)
  })
})

const paste = (changes: Entry = {}, roll: Entry = {}): Entry => ({
  ...{ at: '1 s', do: 'flying splice', film: 'A', patch: '0 mm' },
  ...{ roll: { diameter: '500 mm', core: '90 mm', coreInertia: '0.01 kg m^2', woundTension: '100 N', ...roll } },
  ...changes,
})
const films = { B: { ...pet, thickness: '100 µm' } }
const four = (unwound: Entry = {}) => [
  ...[unwind(100, unwound), span(0.8, 0.002), idler('idler 1'), span(0.6, 0.002), nip('nip'), span(1.1), rewind()],
]

describe('a flying splice', () => {
  test('of the same film from an equal roll changes nothing, and passes every roller when the film has come so far', () => {
    const run = runOf({ line: four(), stage: [paste({}, { diameter: '400 mm' })], duration: 4 })
    finish(run, ({ line }) => {
      for (const force of line.spans.force) expect(force).toBeCloseTo(100, 4)
    })
    const stretch = 1 + 100 / EA
    const reached = ['idler 1', 'nip', 'rewind'].map((name) => timeOf(run, 'splice passes', name))
    // film held, stretched again, passes at 1 m/s: so the length of the path counts
    expect(reached[0]).toBeCloseTo(1 + 0.8, 6)
    expect(reached[1]).toBeCloseTo(1 + 1.4, 6)
    expect(reached[2]).toBeCloseTo(1 + 2.5, 6)
    expect(run.y[run.line.unwoundState]).toBeCloseTo(4 / stretch, 8)
  })

  test('puts on the new roll: radius, inertia, turn rate with its mismatch; tension does not jump', () => {
    const servo = { drive: { kind: 'servo', bandwidth: '20 rad/s', torqueLimit: '500 N m' } }
    const run = runOf({ line: four(servo), stage: [paste({ mismatch: '2 %' })], duration: 1.001, tick: 0.001 })
    const before: number[] = []
    let inertia = 0
    finish(run, ({ time, line }) => {
      if (time < 1) before[0] = line.spans.force[0]
      else if (before.length === 1) {
        before.push(line.spans.elastic[0], line.rollers.radius[0] * line.rollers.speed[0])
        inertia = line.rollers.inertia[0]
        expect(line.rollers.radius[0]).toBeCloseTo(0.25, 12)
      }
    })
    expect(before[1]).toBeCloseTo(before[0], 4)
    expect(before[2]).toBeCloseTo(1.02, 12)
    const mass = (1390 * Math.PI) / 2
    expect(inertia).toBeCloseTo(0.01 + mass * (0.25 ** 4 - 0.045 ** 4), 6)
  })

  test('of a roll that was wound tighter: its film comes with that strain', () => {
    const stage = [paste({}, { woundTension: '160 N' })]
    const { spans } = finish(runOf({ line: four(), stage, duration: 20, tick: 0.1 }))
    for (const s of spans) expect(s.tension.end).toBeCloseTo(160, 2)
  })

  test('onto a smaller roll: the servo goes on with the torque that holds the same tension there', () => {
    const servo = { drive: { kind: 'servo', bandwidth: '20 rad/s', torqueLimit: '500 N m' } }
    const stage = [paste({}, { diameter: '250 mm' })]
    const run = runOf({ line: four(servo), stage, duration: 1.01 })
    const before = run.line.rollers.motor[0] / run.line.rollers.radius[0]
    const { spans } = finish(run)
    expect(before).toBeCloseTo(-100, 3)
    expect(run.line.rollers.radius[0]).toBeCloseTo(0.125, 4)
    expect(run.line.rollers.motor[0] / run.line.rollers.radius[0]).toBeCloseTo(-100, 0)
    expect(spans[0].tension.min).toBeGreaterThan(99)
    expect(spans[0].tension.max).toBeLessThan(101)
  })

  test('of a film twice as thick: where strain is imposed, tension doubles once it has come', () => {
    const stage = [paste({ film: 'B' }, { woundTension: '200 N' })]
    const run = runOf({ line: four(), films, stage, duration: 20, tick: 0.1 })
    const { spans } = finish(run)
    for (const s of spans) {
      expect(s.tension.start).toBeCloseTo(100, 6)
      expect(s.tension.end).toBeCloseTo(200, 2)
    }
  })

  test('a longer first span is filled at the same tension, and the film for it is booked', () => {
    const run = runOf({ line: four(), stage: [paste({}, { spanChange: '150 mm' })], duration: 2 })
    let after = 0
    finish(run, ({ time, line }) => {
      if (time > 0.995 && after === 0) after = line.spans.elastic[0]
    })
    expect(after).toBeCloseTo(100, 4)
    expect(run.line.spans.length[0]).toBeCloseTo(0.95, 12)
    expect(run.line.scrap).toBeCloseTo(-0.15 / (1 + 100 / EA), 9)
  })

  test('a longer first span leaves the film that is under way where it is: an earlier splice passes when it would', () => {
    const second = paste({ at: '1.5 s' }, { spanChange: '150 mm' })
    const run = runOf({ line: four(), stage: [paste(), second], duration: 3 })
    finish(run)
    expect(timeOf(run, 'splice passes', 'idler 1')).toBeCloseTo(1 + 0.8, 3)
    expect(timeOf(run, 'splice passes', 'nip')).toBeCloseTo(1 + 1.4, 3)
  })

  test('film in a patch is as stiff as both: a patch that fills a span carries more for the same strain', () => {
    const run = runOf({ line: four(), stage: [paste({ patch: '900 mm' })], duration: 1.85, tick: 0.01 })
    finish(run)
    // at 1.85 s the first span, 0.8 m long, lies wholly in the patch
    const { spans, tape, rollers } = run.line
    expect(rollers.material[0]).toBe(1)
    expect(rollers.material[1]).toBe(1)
    expect(tape.materials[1].stiffness).toBe(2 * EA)
    expect(spans.compliance[0]).toBeCloseTo(run.y[0] / (2 * EA), 15)
  })
})

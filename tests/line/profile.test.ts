/** Ramps against kinematics: what a ramp is, told by its own integral and derivative. */
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { Profile } from '../../src/line/profile'

const within = (share: number, from: number, to: number) => from + share * (to - from)
const number = (min: number, max: number) => fc.double({ min, max, noNaN: true })
const ramp = fc.record({
  from: number(-2, 5),
  to: number(-2, 5),
  takes: number(0.01, 20),
  rounding: fc.oneof(fc.constant(0), fc.constant(0.5), number(0, 0.5)),
})

describe('a straight ramp', () => {
  const profile = new Profile(1).ramp(2, 4, 3, 0)
  test('is a straight line between two constant speeds', () => {
    expect([0, 2, 3.5, 5, 9].map((t) => profile.speedAt(t))).toEqual([1, 1, 2.5, 4, 4])
    expect(profile.corners()).toEqual([2, 5])
  })
  test('has its acceleration inside and none outside', () => {
    const rates = [1, 2, 4.9, 5].map((t) => {
      profile.enter(t)
      return profile.rate(t)
    })
    expect(rates).toEqual([0, 1, 1, 0])
  })
})

test('a rounded ramp: greatest acceleration (v2 - v1)/(T (1 - r)), reached after r T with constant jerk', () => {
  const profile = new Profile(0).ramp(0, 3, 2, 0.25)
  expect(profile.corners()).toEqual([0, 0.5, 1.5, 2])
  const rates = [0, 0.25, 0.5, 1, 1.5, 1.75, 2].map((t) => {
    profile.enter(t)
    return profile.rate(t)
  })
  expect(rates).toEqual([0, 1, 2, 2, 2, 1, 0])
  expect([0.25, 0.5, 1, 1.5, 1.75].map((t) => profile.speedAt(t))).toEqual([0.125, 0.5, 1.5, 2.5, 2.875])
})

test('any ramp is the same read backwards: half the change at half time, and the same at equal times from its ends', () => {
  fc.assert(
    fc.property(ramp, number(0, 1), ({ from, to, takes, rounding }, share) => {
      const profile = new Profile(from).ramp(1, to, takes, rounding)
      const early = profile.speedAt(within(share, 1, 1 + takes))
      const late = profile.speedAt(within(1 - share, 1, 1 + takes))
      expect(early + late).toBeCloseTo(from + to, 9)
      expect(profile.speedAt(1)).toBeCloseTo(from, 12)
      expect(profile.speedAt(1 + takes)).toBe(to)
    }),
    { seed: 1 },
  )
})

test('acceleration is the slope of speed, and speed never leaves the band between its ends', () => {
  fc.assert(
    fc.property(ramp, number(0.001, 0.999), ({ from, to, takes, rounding }, share) => {
      const profile = new Profile(from).ramp(0, to, takes, rounding)
      const t = share * takes
      const step = 1e-6 * takes
      profile.enter(t)
      const slope = (profile.value(t + step) - profile.value(t - step)) / (2 * step)
      expect(profile.rate(t)).toBeCloseTo(slope, 4)
      expect(profile.value(t)).toBeCloseTo(profile.speedAt(t), 12)
      expect(profile.speedAt(t)).toBeGreaterThanOrEqual(Math.min(from, to) - 1e-12)
      expect(profile.speedAt(t)).toBeLessThanOrEqual(Math.max(from, to) + 1e-12)
    }),
    { seed: 1 },
  )
})

test('ramps follow each other from wherever the one before has led', () => {
  const profile = new Profile(1).ramp(0, 2, 1, 0.3).ramp(1, 0, 2, 0).ramp(5, 3, 1, 0.5)
  expect(profile.speedAt(1)).toBe(2)
  expect(profile.speedAt(2)).toBeCloseTo(1, 12)
  expect(profile.speedAt(4)).toBe(0)
  expect(profile.speedAt(5.5)).toBeCloseTo(1.5, 12)
})

test('the piece that was entered holds until the next is entered: the solver sees no corner inside a step', () => {
  const profile = new Profile(1).ramp(1, 2, 1, 0)
  profile.enter(0)
  expect(profile.value(1.5)).toBe(1)
  profile.enter(1)
  expect(profile.value(1.5)).toBe(1.5)
  expect(profile.value(2.5)).toBe(2.5)
  profile.enter(2)
  expect(profile.value(2.5)).toBe(2)
})

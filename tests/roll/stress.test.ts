/** Pressure and hoop stress: closed forms, force balance, scaling, order of convergence, the classical scheme. */
import * as fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { lapByLap } from '../../src/roll/classical'
import { march, type Winding } from '../../src/roll/march'
import { hoopOf, wind } from '../../src/roll/stress'
import { at, linear, soft, wound } from './rolls'

/** Closed form of the linear roll (Altmann 1968): Simpson's rule over the laps outside rho. */
function closedForm(g: number, m: number, out: number, rho: number, sigma = (_x: number) => 1): number {
  const b = (g - m) / (g + m)
  const n = 4000
  const f = (x: number) => (sigma(x) * x ** g) / (x ** (2 * g) + b)
  let sum = f(rho) + f(out)
  for (let k = 1; k < n; k++) sum += (k % 2 === 1 ? 4 : 2) * f(rho + ((out - rho) * k) / n)
  return ((rho ** g + b * rho ** -g) / rho) * ((sum * (out - rho)) / n / 3)
}

const span = (low: number, high: number) =>
  fc.integer({ min: 0, max: 1000 }).map((k) => low + ((high - low) * k) / 1000)

test('agrees with the closed form of the linear roll for any stiffness, core and taper', () => {
  fc.assert(
    fc.property(span(0.5, 20), span(0, 60), span(1.1, 5), span(0, 0.8), (g, m, out, k) => {
      const sigma = (r: number) => 1 - (k * (r - 1)) / (out - 1)
      const roll = wound(linear(g, m, out, (from, to) => sigma((from + to) / 2)))
      const peak = Math.max(...roll.pressure)
      for (const share of [0, 0.1, 0.5, 0.9]) {
        const rho = 1 + share * (out - 1)
        expect(Math.abs(at(roll, rho) - closedForm(g, m, out, rho, sigma))).toBeLessThan(5e-4 * peak)
      }
    }),
    { numRuns: 40 },
  )
})

describe('order of convergence', () => {
  test('one march is of second order at least 1.8, extrapolated of a higher one', () => {
    const truth = wound(soft, 4800).pressure[0]
    const error = (shells: number, extrapolated: boolean) => {
      const plain = march(soft, shells)
      if ('softened' in plain) throw new Error('softened')
      return Math.abs((extrapolated ? wound(soft, shells).pressure[0] : plain.pressure[0]) / truth - 1)
    }
    expect(Math.log2(error(600, false) / error(1200, false))).toBeGreaterThan(1.8)
    expect(Math.log2(error(400, true) / error(800, true))).toBeGreaterThan(2.3)
  })

  test('the classical scheme comes from above with first order, towards the same limit', () => {
    const limit = wound(soft, 2400).pressure[0]
    const [coarse, fine] = [900, 1800].map((laps) => lapByLap(soft, laps)[0] / limit - 1)
    expect(coarse).toBeGreaterThan(fine)
    expect(Math.log2(coarse / fine)).toBeGreaterThan(0.8)
    expect(Math.log2(coarse / fine)).toBeLessThan(1.2)
  })

  test('the default number of shells lies within 0.2 % of the limit everywhere', () => {
    const [usual, finer] = [wound(soft), wound(soft, 4000)]
    for (const rho of [1, 1.02, 1.1, 1.5, 2, 2.5, 2.9]) {
      expect(Math.abs(at(usual, 0.045 * rho) / at(finer, 0.045 * rho) - 1)).toBeLessThan(2e-3)
    }
  })
})

/**
 * A linear roll wound lap by lap in closed form, its hoop stress summed and never differentiated: under a lap at s each earlier lap takes
 * dT = -(g (r^g - b r^-g)/(s^g + b s^-g)) sigma h/r, b as in the closed form; it began at sigma. Midpoint rule over the laps outside.
 */
test('the hoop stress is what laps began with and what later laps added', () => {
  const [g, m, out] = [5, 0.3, 3]
  const b = (g - m) / (g + m)
  const { radius, hoop } = wound(linear(g, m, out), 1200)
  const peak = Math.max(...hoop.map(Math.abs))
  const summed = (r: number) => {
    const n = 4000
    const ds = (out - r) / n
    let sum = 0
    for (let k = 0; k < n; k++) {
      const s = r + (k + 0.5) * ds
      sum -= ((g * (r ** g - b * r ** -g)) / (s ** g + b * s ** -g) / r) * ds
    }
    return 1 + sum
  }
  for (const i of [0, 10, 300, 700, 1000, 1150]) expect(Math.abs(hoop[i] - summed(radius[i]))).toBeLessThan(1e-3 * peak)
})

test('force balance on the nodes to 1e-6 of the peak, as anyone would take the slope', () => {
  for (const winding of [soft, linear(5, 50, 3)]) {
    const { radius, pressure, hoop } = wound(winding)
    const peak = Math.max(...pressure, ...hoop.map(Math.abs))
    for (let i = 1; i < radius.length - 1; i++) {
      const [before, after] = [radius[i] - radius[i - 1], radius[i + 1] - radius[i]]
      const product = [i - 1, i, i + 1].map((k) => radius[k] * pressure[k])
      const [rise, next] = [(product[1] - product[0]) / before, (product[2] - product[1]) / after]
      const slope = (after * rise + before * next) / (before + after)
      expect(Math.abs(slope + hoop[i])).toBeLessThan(1e-6 * peak)
    }
  }
})

test('the outermost lap keeps what it was wound with; a plateau carries its own pressure as compression', () => {
  const { hoop, pressure, radius } = wound(soft)
  expect(hoop[hoop.length - 1]).toBeCloseTo(10e6, 3)
  const middle = radius.findIndex((r) => r > 0.045 * 1.5)
  expect(hoop[middle] / -pressure[middle]).toBeCloseTo(1, 1)
})

test('laps without tension change nothing', () => {
  const short = wound({ ...soft, outerRadius: 0.09 })
  const dead = wound({ ...soft, woundOn: (from) => (from < 0.09 ? 10e6 : 0) }, 4000)
  const peak = short.pressure[0]
  for (const r of [0.045, 0.05, 0.07, 0.085]) expect(Math.abs(at(dead, r) - at(short, r))).toBeLessThan(3e-3 * peak)
  expect(at(dead, 0.12)).toBe(0)
  expect(wound({ ...soft, woundOn: () => 0 }).pressure.every((p) => p === 0)).toBe(true)
})

test('stiffnesses, core and tension scaled together scale the answer', () => {
  const base = wound(soft)
  const k = 3.7
  const scaled = wound({ ...soft, along: soft.along * k, through: [400e3 * k, 40, 0, 0], woundOn: () => 10e6 * k })
  base.pressure.forEach((p, i) => expect(scaled.pressure[i] / k).toBeCloseTo(p, 3))
})

test('a stack without stiffness is reported with its pressure, whatever the law', () => {
  const bad = (through: Winding['through']) => wind({ ...soft, through })
  expect(bad([0, 40, 0, 0])).toEqual({ softened: 0 })
  expect(bad([-1, 40, 0, 0])).toEqual({ softened: 0 })
  expect(bad([Number.NaN, 0, 0, 0])).toEqual({ softened: 0 })
  const turning = bad([400e3, 40, -1.2e-4, 0])
  expect('softened' in turning && turning.softened).toBeGreaterThan(3.3e5)
})

test('stages of the build-up are the rolls that they would be by themselves', () => {
  const whole = wind(soft, 1600, 3)
  if ('softened' in whole) throw new Error('softened')
  const stage = whole.stages[1]
  const alone = wound({ ...soft, outerRadius: stage.outerRadius }, 1600)
  expect(stage.pressure[0] / alone.pressure[0]).toBeCloseTo(1, 3)
  expect(stage.outerRadius).toBeCloseTo(0.045 + 0.06, 3)
})

test('slopes at both ends of a straight line', () => {
  const radius = Float64Array.from([1, 2, 4])
  expect([...hoopOf(radius, Float64Array.from([3, 3, 3]), -3)]).toEqual([-3, -3, -3])
})

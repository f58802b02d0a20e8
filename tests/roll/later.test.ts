/** What happens to a finished roll: displacements as a second way, contact that is lost and found again, bad input. */
import * as fc from 'fast-check'
import { Matrix, solve } from 'ml-matrix'
import { describe, expect, test } from 'vitest'
import { change, type FreeStrains } from '../../src/roll/later'
import type { Winding } from '../../src/roll/march'
import type { Stress } from '../../src/roll/stress'
import { at, soft, wound } from './rolls'

const even = (radius: Float64Array, along: number, through: number, core = 0): FreeStrains => ({
  ...{ along, core, through: new Float64Array(radius.length).fill(through) },
})

/**
 * Linear roll by displacements w(r): finite elements of two nodes, energy of an orthotropic ring. sigma_t = E_t (w/r - e_t) + nu sigma_r,
 * sigma_r = E_r' (w' - e_r + nu' ...) written through the stiffness of (radial, hoop) strain; the core is a spring E_c/r0.
 */
function byDisplacement(
  { coreRadius, outerRadius, along, through, core }: Winding,
  nu: number,
  strains: { along: number; through: number; core: number },
) {
  const n = 800
  const er = through[0]
  const radius = Array.from({ length: n + 1 }, (_, i) => coreRadius * (outerRadius / coreRadius) ** (i / n))
  // compliance: e_t = sigma_t/E_t - nu sigma_r/E_t, e_r = sigma_r/E_r - nu sigma_t/E_t
  const det = 1 / (along * er) - (nu / along) ** 2
  const [ctt, crr, ctr] = [1 / er / det, 1 / along / det, nu / along / det]
  const [diagonal, off, load] = [new Float64Array(n + 1), new Float64Array(n), new Float64Array(n + 1)]
  for (let k = 0; k < n; k++) {
    const [a, b] = [radius[k], radius[k + 1]]
    const [middle, length] = [(a + b) / 2, b - a]
    const weight = middle * length
    // strains at the middle: hoop (w_a + w_b)/(2 middle), radial (w_b - w_a)/length
    const [t, r] = [
      [1 / (2 * middle), 1 / (2 * middle)],
      [-1 / length, 1 / length],
    ]
    const k2 = (i: number, j: number) =>
      weight * (ctt * t[i] * t[j] + crr * r[i] * r[j] + ctr * (t[i] * r[j] + r[i] * t[j]))
    diagonal[k] += k2(0, 0)
    diagonal[k + 1] += k2(1, 1)
    off[k] += k2(0, 1)
    for (const i of [0, 1]) {
      load[k + i] +=
        weight *
        ((ctt * strains.along + ctr * strains.through) * t[i] + (crr * strains.through + ctr * strains.along) * r[i])
    }
  }
  const stiff = along / (core - nu)
  diagonal[0] += stiff
  load[0] += stiff * strains.core * coreRadius
  return { w0: thomas(diagonal, off, load)[0], pressure: (w0: number) => -stiff * (w0 / coreRadius - strains.core) }
}

function thomas(diagonal: Float64Array, off: Float64Array, load: Float64Array): Float64Array {
  const [d, x] = [diagonal.slice(), load.slice()]
  for (let i = 1; i < d.length; i++) {
    const factor = off[i - 1] / d[i - 1]
    d[i] -= factor * off[i - 1]
    x[i] -= factor * x[i - 1]
  }
  for (let i = d.length - 1; i >= 0; i--) x[i] = (x[i] - (i < off.length ? off[i] * x[i + 1] : 0)) / d[i]
  return x
}

test('the tridiagonal solver of the test solves', () => {
  const x = thomas(Float64Array.of(4, 5, 6), Float64Array.of(1, 2), Float64Array.of(1, 2, 3))
  const direct = solve(
    new Matrix([
      [4, 1, 0],
      [1, 5, 2],
      [0, 2, 6],
    ]),
    Matrix.columnVector([1, 2, 3]),
  ).to1DArray()
  direct.forEach((value, i) => expect(x[i]).toBeCloseTo(value, 12))
})

const linear: Winding = {
  ...{ coreRadius: 0.05, outerRadius: 0.15, along: 4.5e9, through: [1.8e8, 0, 0, 0], core: 3, woundOn: () => 100e6 },
}

test('the core pressure of a linear roll agrees with a displacement formulation', () => {
  const nu = 0.3
  const roll = wound(linear, 1200)
  const strain = fc.integer({ min: -10, max: 10 }).map((k) => k * 1e-4)
  fc.assert(
    fc.property(strain, strain, strain, (along, through, core) => {
      const after = change(linear, roll, even(roll.radius, along, through, core), 4)
      const { w0, pressure } = byDisplacement(linear, nu, { along, through, core })
      expect(Math.abs(after.pressure[0] - roll.pressure[0] - pressure(w0))).toBeLessThan(2e3)
    }),
    { numRuns: 15 },
  )
})

describe('laps that come apart', () => {
  const roll = wound(soft)

  test('pressure never falls below nothing, and where it is nothing it is reported', () => {
    const after = change(soft, roll, even(roll.radius, 0, -0.2))
    expect(Math.min(...after.pressure)).toBe(0)
    expect(after.apart.some((apart) => apart)).toBe(true)
    after.apart.forEach((apart, i) => {
      if (apart) expect(after.pressure[i]).toBe(0)
    })
    expect(after.pressure.every(Number.isFinite) && after.hoop.every(Number.isFinite)).toBe(true)
  })

  test('where laps lie apart they carry nothing along either; the more strain, the wider', () => {
    const tight: Winding = { ...linear, woundOn: () => 2e6 }
    const before = wound(tight, 800)
    const [some, more] = [-0.004, -0.008].map((through) => change(tight, before, even(before.radius, 0, through)))
    const zone = (apart: readonly boolean[]) => apart.filter((is) => is).length
    expect(zone(some.apart)).toBeGreaterThan(10)
    expect(zone(more.apart)).toBeGreaterThan(zone(some.apart))
    some.apart.forEach((apart, i) => {
      if (apart && some.apart[i - 1] && some.apart[i + 1]) expect(Math.abs(some.hoop[i])).toBeLessThan(1e-6 * 2e6)
    })
    expect(change(tight, before, even(before.radius, 0, 0)).pressure).toEqual(before.pressure)
  })

  test('any free strains give finite pressures of at least nothing', () => {
    const strain = fc.integer({ min: -100, max: 100 }).map((k) => k * 1e-3)
    const coarse = wound(soft, 240)
    fc.assert(
      fc.property(strain, strain, strain, (along, through, core) => {
        const after = change(soft, coarse, even(coarse.radius, along, through, core))
        expect(after.pressure.every((p) => Number.isFinite(p) && p >= 0)).toBe(true)
        expect(after.hoop.every(Number.isFinite)).toBe(true)
      }),
      { numRuns: 25 },
    )
  })
})

test('in twice as many steps a nonlinear roll changes by the same', () => {
  const roll = wound(soft)
  const strains = even(roll.radius, -2e-4, -1e-3)
  const [few, many] = [change(soft, roll, strains, 20), change(soft, roll, strains, 80)]
  for (const rho of [1, 1.1, 1.5, 2]) {
    const [a, b] = [few, many].map((state: Stress) => at(state, 0.045 * rho))
    expect(Math.abs(a / b - 1)).toBeLessThan(1e-3)
  }
})

test('force balance holds after the change', () => {
  const roll = wound(soft)
  const { radius, pressure, hoop } = change(soft, roll, even(roll.radius, -1e-4, -1e-3))
  const peak = Math.max(...pressure, ...hoop.map(Math.abs))
  for (let i = 1; i < radius.length - 1; i++) {
    const [before, after] = [radius[i] - radius[i - 1], radius[i + 1] - radius[i]]
    const product = [i - 1, i, i + 1].map((k) => radius[k] * pressure[k])
    const slope =
      (after * ((product[1] - product[0]) / before) + before * ((product[2] - product[1]) / after)) / (before + after)
    expect(Math.abs(slope + hoop[i])).toBeLessThan(1e-6 * peak)
  }
})

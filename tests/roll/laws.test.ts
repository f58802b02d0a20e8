/** Taper laws said in each other, the drive table, lengths and fill factor: definitions, so the figures are exact. */
import { describe, expect, test } from 'vitest'
import type { TaperSpec } from '../../src/line/taper'
import { buildAt, convert, driveTable, fillFactorFrom, finalTension, tensionAt, type Law } from '../../src/roll'
import { inputOf } from './rolls'

const CORE = 0.05
const taper = (change: Partial<TaperSpec>): TaperSpec => ({
  ...{
    tension: 100,
    law: 'linear',
    taper: 0.5,
    fullDiameter: 0.5,
    blend: 0.3,
    exponent: 0.3,
    table: undefined,
    ...change,
  },
})

const laws: readonly Law[] = ['constant', 'linear', 'hyperbolic', 'blend', 'power', 'table']

describe('the same final tension', () => {
  test.each(laws)('%s ends where the linear law ends', (law) => {
    const { taper: said } = convert(taper({ taper: 0.4 }), CORE, law, 'same final tension')
    expect(said.law).toBe(law)
    expect(finalTension(said, CORE)).toBeCloseTo(60, 6)
  })

  test('the settings are those of the definitions: build-up of five cores', () => {
    const from = taper({ taper: 0.4 })
    const to = (law: Law) => convert(from, CORE, law, 'same final tension').taper
    expect(to('hyperbolic').taper).toBeCloseTo(0.5, 8)
    expect(to('blend').taper).toBeCloseTo(0.4 / (0.3 + 0.7 * 0.8), 8)
    expect(to('power').exponent).toBeCloseTo(-Math.log(0.6) / Math.log(5), 8)
  })

  test('what a law cannot reach it comes as near to as it can, and the difference is told', () => {
    const { taper: said, difference } = convert(taper({ taper: 0.9 }), CORE, 'hyperbolic', 'same final tension')
    expect(said.taper).toBe(1)
    expect(difference).toBeGreaterThan(10)
  })
})

describe('the least difference', () => {
  test('from hyperbolic to linear: the regression of the shares, solved by hand', () => {
    // k_lin = integral of a b / integral of b^2 with a = k (1 - r0/r), b = (r - r0)/(R - r0), in units of r0
    const R = 5
    const ab = 0.5 * (((R * R - 1) / 2 - 2 * (R - 1) + Math.log(R)) / (R - 1))
    const bb = (R - 1) / 3
    const { taper: said } = convert(taper({ law: 'hyperbolic' }), CORE, 'linear', 'least difference')
    expect(said.taper).toBeCloseTo(ab / bb, 3)
  })

  test('is never worse than that of the same final tension, in mean square', () => {
    const from = taper({ law: 'power', exponent: 0.5 })
    const miss = (other: TaperSpec) => {
      let sum = 0
      for (let k = 0; k < 500; k++) {
        const r = CORE + (0.2 * (k + 0.5)) / 500
        sum += (tensionAt(from, CORE, r) - tensionAt(other, CORE, r)) ** 2
      }
      return sum
    }
    for (const law of ['linear', 'hyperbolic', 'blend'] as const) {
      const least = miss(convert(from, CORE, law, 'least difference').taper)
      expect(least).toBeLessThan(miss(convert(from, CORE, law, 'same final tension').taper))
    }
  })

  test('the law itself and its table lose nothing', () => {
    expect(convert(taper({}), CORE, 'linear', 'least difference').difference).toBe(0)
    expect(convert(taper({}), CORE, 'table', 'least difference').difference).toBeLessThan(1e-9)
    expect(convert(taper({ law: 'hyperbolic' }), CORE, 'table', 'least difference').difference).toBeLessThan(1.5)
  })
})

describe('the table for the drive', () => {
  const input = inputOf('taper-wind-up.json')

  test('rows from core to full, with torque, turn rate and power of the film', () => {
    const rows = driveTable(input, 8)
    expect(rows.map(({ diameter }) => diameter)[0]).toBeCloseTo(0.09, 12)
    expect(rows[8].diameter).toBeCloseTo(0.5, 12)
    // 60 N, hyperbolic 30 %: 60 (1 - 0.3 (1 - 90/500)) at the end
    expect(rows[8].tension).toBeCloseTo(60 * (1 - 0.3 * (1 - 0.18)), 9)
    expect(rows[8].torque).toBeCloseTo(rows[8].tension * 0.25, 9)
    expect(rows[0].turnRate).toBeCloseTo(0.5 / 0.045, 9)
    expect(rows[4].power).toBeCloseTo(rows[4].tension * 0.5, 9)
  })

  test('length, laps, mass and time of the full roll', () => {
    const { length, laps, mass, time } = buildAt(input, 0.25)
    expect(length).toBeCloseTo((Math.PI * (0.25 ** 2 - 0.045 ** 2)) / (36e-6 * 1.03), 6)
    expect(laps).toBeCloseTo(0.205 / (36e-6 * 1.03), 6)
    expect(mass).toBeCloseTo(1390 * 36e-6 * 0.42 * length, 9)
    expect(time).toBeCloseTo(length / 0.5, 6)
    expect(fillFactorFrom({ diameter: 0.5, core: 0.09, length, thickness: 36e-6 })).toBeCloseTo(1.03, 12)
  })

  test('a line that never moves has no time', () => {
    const still = inputOf('taper-wind-up.json', (document) => {
      document['speed'] = { ...(document['speed'] as object), start: '0 m/min' }
    })
    expect(buildAt(still, 0.25).time).toBeUndefined()
  })
})

/** Taper laws against their definitions (general trade use, no source): at the core, at the full roll, and where they meet. */
import fc from 'fast-check'
import * as v from 'valibot'
import { describe, expect, test } from 'vitest'
import { taperFields, taperLaws, taperShare } from '../../src/line/taper'

const schema = v.object(taperFields)
const CORE = 0.05

/** Share of the core tension at roll radius `r` (m) for a full roll of five core radii. */
function share(law: string, taper: number, r: number, changes: object = {}): number {
  const spec = v.parse(schema, { tension: '200 N', law, fullDiameter: '500 mm', ...changes })
  return taperShare({ spec, coreRadius: CORE }, taper, r)
}

const table = {
  table: [
    ['100 mm', '100 %'],
    ['300 mm', '70 %'],
    ['500 mm', '60 %'],
  ],
}

test.each(taperLaws)('%s: the stated tension at the core', (law) => {
  expect(share(law, 0.4, CORE, law === 'table' ? table : {})).toBe(1)
})

describe('40 % at the full roll of five core radii', () => {
  test.each([
    ['constant', 1],
    ['linear', 0.6],
    ['hyperbolic', 0.68],
    ['blend', 0.64],
  ])('%s: %d', (law, expected) => {
    expect(share(law, 0.4, 0.25)).toBeCloseTo(expected, 12)
  })

  test('a blend is as much linear as it says', () => {
    expect(share('blend', 0.4, 0.25, { blend: '100 %' })).toBeCloseTo(0.6, 12)
    expect(share('blend', 0.4, 0.25, { blend: '0 %' })).toBeCloseTo(0.68, 12)
    expect(share('blend', 0.4, 0.25, { blend: '25 %' })).toBeCloseTo(0.66, 12)
  })
})

test('linear falls in a straight line with the radius, hyperbolic the sooner the smaller the roll', () => {
  expect(share('linear', 0.4, 0.15)).toBeCloseTo(0.8, 12)
  expect(share('hyperbolic', 0.4, 0.1)).toBeCloseTo(0.8, 12)
})

test('power: (r/r0)^-n', () => {
  expect(share('power', 0, 0.2, { exponent: 0.5 })).toBeCloseTo(0.5, 12)
  expect(share('power', 0, 0.2, { exponent: 0 })).toBe(1)
})

test('table: straight lines between its points, level beyond them', () => {
  expect([0.1, 0.15, 0.2, 0.25, 0.4, 0.04].map((r) => share('table', 0, r, table))).toEqual([
    ...[0.85, 0.7, 0.65, 0.6, 0.6, 1].map((x) => expect.closeTo(x, 12) as number),
  ])
})

test('beyond the full roll and below the core the laws stay as they are there', () => {
  for (const law of ['linear', 'hyperbolic', 'blend', 'power']) {
    expect(share(law, 0.4, 0.9)).toBe(share(law, 0.4, 0.25))
    expect(share(law, 0.4, 0.01)).toBe(1)
  }
})

test('hyperbolic 100 % is constant torque at every radius', () => {
  fc.assert(
    fc.property(fc.double({ min: CORE, max: 0.25, noNaN: true }), (r) => {
      expect((share('hyperbolic', 1, r) * r) / CORE).toBeCloseTo(1, 9)
    }),
    { seed: 1 },
  )
})

test('no law asks for more than at the core, or less than the stated share of it', () => {
  const any = fc.record({
    law: fc.constantFrom('constant', 'linear', 'hyperbolic', 'blend'),
    taper: fc.double({ min: 0, max: 1, noNaN: true }),
    at: fc.double({ min: 0, max: 1, noNaN: true }),
  })
  fc.assert(
    fc.property(any, ({ law, taper, at }) => {
      const found = share(law, taper, CORE + 0.2 * at)
      expect(found).toBeLessThanOrEqual(1 + 1e-12)
      expect(found).toBeGreaterThanOrEqual(1 - taper - 1e-12)
    }),
    { seed: 1 },
  )
})

test('without a taper these laws are one', () => {
  for (const law of ['constant', 'linear', 'hyperbolic', 'blend']) expect(share(law, 0, 0.17)).toBe(1)
})

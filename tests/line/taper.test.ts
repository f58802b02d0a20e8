/** Taper laws against their definitions (general trade use, no source): at the core, at the full roll, and where they meet. */
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { taperedTension, taperLaws, type Taper } from '../../src/line/taper'

const taper = (changes: Partial<Taper> = {}): Taper => ({
  ...{ law: 'constant', tension: 200, taper: 0.4, coreRadius: 0.05, fullRadius: 0.25, ...changes },
})

test.each(taperLaws)('%s: the stated tension at the core', (law) => {
  expect(taperedTension(taper({ law }), 0.05)).toBe(200)
})

describe('at the full roll of five core radii', () => {
  test.each([
    ['constant', 200],
    ['linear', 120],
    ['hyperbolic', 136],
  ] as const)('%s: %d N', (law, expected) => {
    expect(taperedTension(taper({ law }), 0.25)).toBeCloseTo(expected, 10)
  })
})

test('linear falls in a straight line with the radius, hyperbolic the sooner the smaller the roll', () => {
  expect(taperedTension(taper({ law: 'linear' }), 0.15)).toBeCloseTo(160, 10)
  expect(taperedTension(taper({ law: 'hyperbolic' }), 0.1)).toBeCloseTo(160, 10)
})

test('hyperbolic 100 % is constant torque at every radius', () => {
  fc.assert(
    fc.property(fc.double({ min: 0.05, max: 3, noNaN: true }), (r) => {
      expect(taperedTension(taper({ law: 'hyperbolic', taper: 1 }), r) * r).toBeCloseTo(10, 9)
    }),
  )
})

test('no law asks for more than at the core, or less than the stated share of it up to the full roll', () => {
  const any = fc.record({
    law: fc.constantFrom(...taperLaws),
    share: fc.double({ min: 0, max: 1, noNaN: true }),
    at: fc.double({ min: 0, max: 1, noNaN: true }),
  })
  fc.assert(
    fc.property(any, ({ law, share, at }) => {
      const tension = taperedTension(taper({ law, taper: share }), 0.05 + 0.2 * at)
      expect(tension).toBeLessThanOrEqual(200 + 1e-9)
      expect(tension).toBeGreaterThanOrEqual(200 * (1 - share) - 1e-9)
    }),
  )
})

test('without a taper all laws are one', () => {
  for (const law of taperLaws) expect(taperedTension(taper({ law, taper: 0 }), 0.17)).toBe(200)
})

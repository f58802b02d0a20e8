import fc from 'fast-check'
import { EigenvalueDecomposition, Matrix } from 'ml-matrix'
import { describe, expect, test } from 'vitest'
import { eigenvaluesOf } from '../../src/tune/eigenvalues'
import { exponential, product } from '../../src/tune/dense'

const entry = fc.integer({ min: -1000, max: 1000 }).map((k) => k / 100)
const square = fc
  .integer({ min: 1, max: 12 })
  .chain((n) => fc.array(fc.oneof(entry, fc.constant(0)), { minLength: n * n, maxLength: n * n }))

const sorted = (re: ArrayLike<number>, im: ArrayLike<number>) =>
  Array.from(re, (r, k) => [r, im[k]] as const).sort((a, b) => a[0] - b[0] || a[1] - b[1])

/** Largest distance of each value of one list to its nearest in the other. */
function apart(one: readonly (readonly [number, number])[], other: readonly (readonly [number, number])[]): number {
  return Math.max(...one.map(([r, i]) => Math.min(...other.map(([s, j]) => Math.hypot(r - s, i - j)))))
}

describe('eigenvalues', () => {
  test('a companion matrix of (s + 1)(s + 2)((s + 3)^2 + 16)', () => {
    // s^4 + 9 s^3 + 45 s^2 + 87 s + 50
    const a = Float64Array.from([-9, -45, -87, -50, 1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0])
    const { re, im } = eigenvaluesOf(a, 4)
    expect(
      apart(sorted(re, im), [
        [-3, -4],
        [-3, 4],
        [-2, 0],
        [-1, 0],
      ]),
    ).toBeLessThan(1e-12)
  })

  test('as another implementation finds them, to rounding, for any matrix', () => {
    fc.assert(
      fc.property(square, (values) => {
        const n = Math.round(Math.sqrt(values.length))
        const { re, im } = eigenvaluesOf(Float64Array.from(values), n)
        const { realEigenvalues, imaginaryEigenvalues } = new EigenvalueDecomposition(Matrix.from1DArray(n, n, values))
        const ours = sorted(re, im)
        const theirs = sorted(realEigenvalues, imaginaryEigenvalues)
        // a multiple eigenvalue is known only to a root of the rounding
        expect(Math.max(apart(ours, theirs), apart(theirs, ours))).toBeLessThan(0.05)
        const trace = values.reduce((sum, v, k) => (k % (n + 1) === 0 ? sum + v : sum), 0)
        expect(re.reduce((a, b) => a + b, 0)).toBeCloseTo(trace, 8)
      }),
      { numRuns: 300 },
    )
  })

  test('what is no number has no eigenvalues, and says so at once', () => {
    expect(eigenvaluesOf(Float64Array.from([1, Number.NaN, 2, 3, 4, 5, 6, 7, 8]), 3).re.every(Number.isNaN)).toBe(true)
  })
})

describe('exponential of a matrix', () => {
  test('a turn: cosine and sine, after many periods too', () => {
    const e = exponential(Float64Array.from([0, -1, 1, 0]), 100, 2)
    expect(e[0]).toBeCloseTo(Math.cos(100), 11)
    expect(e[2]).toBeCloseTo(Math.sin(100), 11)
  })

  test('exp(a) exp(-a) = 1', () => {
    fc.assert(
      fc.property(square, (values) => {
        const n = Math.round(Math.sqrt(values.length))
        const a = Float64Array.from(values, (x) => x / 10)
        const one = product(
          exponential(a, 0.5, n),
          exponential(
            a.map((x) => -x),
            0.5,
            n,
          ),
          n,
        )
        one.forEach((x, k) => expect(x).toBeCloseTo(k % (n + 1) === 0 ? 1 : 0, 8))
      }),
      { numRuns: 50 },
    )
  })
})

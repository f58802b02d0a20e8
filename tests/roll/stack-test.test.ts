/** The fit of a stack test: known laws found again, honest uncertainty, refusals. */
import { describe, expect, test } from 'vitest'
import { fitStack, type StackFit, type TestPoint } from '../../src/roll'

const pressures = [5, 10, 20, 40, 80, 120, 200, 300, 400, 600, 800].map((kPa) => kPa * 1e3)
const pfeiffer = (p: number) => Math.log1p(p / 12e3) / 45
/** A fixed scatter of about one part in a hundred thousand of strain, the sum of which is nought. */
const scatter = [1, -2, 1, 2, -1, -1, 2, -3, 1, 1, -1].map((k) => k * 2e-4)

function fitted(points: readonly TestPoint[], law: 'constant' | 'Pfeiffer' | 'cubic'): StackFit {
  const fit = fitStack(points, law)
  if (!fit.ok) throw new Error(fit.say)
  return fit
}

test("Pfeiffer's law is found again, with a seating strain", () => {
  const fit = fitted(
    pressures.map((pressure) => ({ pressure, strain: 0.004 + pfeiffer(pressure) })),
    'Pfeiffer',
  )
  expect(fit.parameters[0].value).toBeCloseTo(12e3, -1)
  expect(fit.parameters[1].value).toBeCloseTo(45, 2)
  expect(fit.seating).toBeCloseTo(0.004, 5)
  expect(fit.residual).toBeLessThan(1e-6)
  expect(fit.stack).toMatchObject({ law: 'Pfeiffer', basis: 'measured' })
})

test('a constant modulus: value and error are those of linear regression by hand', () => {
  const points = pressures.map((pressure, k) => ({ pressure, strain: pressure / 50e6 + scatter[k] }))
  const n = points.length
  const mean = (f: (p: TestPoint) => number) => points.reduce((sum, p) => sum + f(p), 0) / n
  const [mp, me] = [mean(({ pressure }) => pressure), mean(({ strain }) => strain)]
  const spp = points.reduce((sum, p) => sum + (p.pressure - mp) ** 2, 0)
  const slope = points.reduce((sum, p) => sum + (p.pressure - mp) * (p.strain - me), 0) / spp
  const left = points.reduce((sum, p) => sum + (p.strain - me - slope * (p.pressure - mp)) ** 2, 0)
  const error = Math.sqrt(left / (n - 2) / spp)
  const fit = fitted(points, 'constant')
  expect(fit.parameters[0].value / (1 / slope)).toBeCloseTo(1, 5)
  expect(fit.parameters[0].error / (error / slope ** 2)).toBeCloseTo(1, 3)
  expect(fit.errorAt(1e5) / fit.parameters[0].error).toBeCloseTo(1, 6)
})

test('a cubic stack is found again; what its points scatter it is off by no more than it says', () => {
  const modulus = (p: number) => 0.6 + 30 * p + 12 * p * p
  const strain = (p: number) => {
    let sum = 0
    const n = 4000
    for (let k = 0; k < n; k++) sum += p / n / modulus((p * (k + 0.5)) / n)
    return sum
  }
  const fit = (size: number) =>
    fitted(
      pressures.map((pressure, k) => ({ pressure, strain: strain(pressure / 1e6) + size * scatter[k] })),
      'cubic',
    )
  const [clean, scattered] = [fit(0), fit(0.5)]
  for (const p of [0.05, 0.2, 0.5]) {
    const found = ({ modulus: [c0, c1, c2, c3] }: StackFit) => c0 + p * 1e6 * (c1 + p * 1e6 * (c2 + p * 1e6 * c3))
    const wanted = modulus(p) * 1e6
    expect(found(clean) / wanted).toBeCloseTo(1, 1)
    const [off, error] = [Math.abs(found(scattered) - wanted), scattered.errorAt(p * 1e6)]
    expect(off).toBeLessThan(3 * error)
    // an error that were as large as the modulus would say nothing
    expect(error).toBeLessThan(0.3 * wanted)
    expect(error).toBeGreaterThan(0.5 * off)
  }
})

test('more scatter, more uncertainty', () => {
  const noisy = (size: number) =>
    fitted(
      pressures.map((pressure, k) => ({ pressure, strain: pfeiffer(pressure) + size * scatter[k] })),
      'Pfeiffer',
    )
  const [one, three] = [noisy(0.3), noisy(0.9)].map((fit) => fit.parameters[1].error)
  expect(three / one).toBeGreaterThan(2)
  expect(one).toBeGreaterThan(0)
})

describe('refuses, and says why', () => {
  const say = (points: readonly TestPoint[], law: 'constant' | 'Pfeiffer' | 'cubic' = 'Pfeiffer') => {
    const fit = fitStack(points, law)
    return fit.ok ? 'fitted' : fit.say
  }
  const good = pressures.map((pressure) => ({ pressure, strain: pfeiffer(pressure) }))

  test('too few points, numbers that are none, pressures below nothing, strains the wrong way', () => {
    expect(say([])).toMatch(/Found 0 different pressures/)
    expect(say(good.slice(0, 3))).toMatch(/at least 4/)
    expect(say([...good, { pressure: Number.NaN, strain: 1 }])).toMatch(/no numbers/)
    expect(say([...good, { pressure: -1, strain: 1 }])).toMatch(/below 0/)
    expect(say(good.map(({ pressure, strain }) => ({ pressure, strain: -strain })))).toMatch(/does not grow/)
  })

  test('never an endless search or NaN, whatever is pasted', () => {
    const odd = [
      good.map(({ pressure }) => ({ pressure, strain: pressure > 1e5 ? 1 : 0 })),
      good.map(({ pressure }, k) => ({ pressure, strain: k % 2 === 0 ? 1e-12 * (k + 1) : 5 })),
      good.map(({ strain }) => ({ pressure: 1e12 * strain, strain: strain * 1e-9 })),
    ]
    for (const points of odd)
      for (const law of ['constant', 'Pfeiffer', 'cubic'] as const) {
        const fit = fitStack(points, law)
        if (fit.ok) expect(fit.parameters.every(({ value }) => Number.isFinite(value))).toBe(true)
        else expect(fit.say.length).toBeGreaterThan(10)
      }
  })
})

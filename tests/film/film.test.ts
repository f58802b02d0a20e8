/** A film as it is stated and the figures per metre that are made of it. Linear elasticity; figures by hand. */
import * as v from 'valibot'
import { describe, expect, test } from 'vitest'
import { filmSchema, materialOf, overlap } from '../../src/film/film'

const stated = {
  ...{ thickness: '36 µm', width: '420 mm', modulus: '4.5 GPa', density: '1390 kg/m^3', elasticLimit: '1 %' },
}
const film = (changes: object = {}) => v.parse(filmSchema, { ...stated, ...changes })

test('stiffness, mass and lap thickness of a stated film', () => {
  const m = materialOf('A', film({ fillFactor: 1.05 }))
  expect(m.stiffness).toBeCloseTo(68040, 6)
  expect(m.massPerLength).toBeCloseTo(0.0210168, 12)
  expect(m.lapThickness).toBeCloseTo(37.8e-6, 15)
  expect(m).toMatchObject({ name: 'A', overlap: false, width: 0.42, elasticLimit: 0.01 })
  expect(m.thickness).toBeCloseTo(36e-6, 15)
})

test('where nothing is stated a lap is thicker than the film by what tables of rolls show', () => {
  expect(film().fillFactor).toBe(1.05)
  expect(film().poisson).toBe(0.38)
})

test('pasted films add up, and the weaker one limits', () => {
  const a = materialOf('A', film())
  const b = materialOf('B', film({ thickness: '50 µm', width: '400 mm', modulus: '2 GPa', elasticLimit: '0.5 %' }))
  const both = overlap(a, b)
  expect(both.overlap).toBe(true)
  expect(both.stiffness).toBeCloseTo(68040 + 40000, 6)
  expect(both.massPerLength).toBeCloseTo(a.massPerLength + b.massPerLength, 15)
  expect(both.lapThickness).toBeCloseTo(a.lapThickness + b.lapThickness, 15)
  expect(both.thickness).toBeCloseTo(86e-6, 15)
  expect(both.width).toBe(0.42)
  expect(both.elasticLimit).toBe(0.005)
  expect(overlap(b, a).elasticLimit).toBe(0.005)
  // each carries its share of a tension
  expect(both.parts.map((p) => p.film)).toEqual(['A', 'B'])
  expect(both.parts[0].share).toBeCloseTo(68040 / 108040, 12)
  expect(both.parts[1].share).toBeCloseTo(40000 / 108040, 12)
})

describe('what is no film is refused', () => {
  test.each([
    ['thickness', '0 µm'],
    ['thickness', '36 N'],
    ['modulus', '0 GPa'],
    ['density', '-1 kg/m^3'],
    ['elasticLimit', '0 %'],
    ['width', '420'],
    ['poisson', 0.5],
    ['fillFactor', 0.4],
  ])('%s %s', (field, value) => {
    expect(v.safeParse(filmSchema, { ...stated, [field]: value }).success).toBe(false)
  })
})

/** Generic films: every value says where it is from, is of the size that the sheets tell, and fits a scenario file. */
import { describe, expect, test } from 'vitest'
import * as v from 'valibot'
import { genericFilms, type GenericFilm, type Stated } from '../../src/film/catalogue'
import { filmSchema } from '../../src/film/film'
import { fromUnit } from '../../src/units'

const film = (key: string): GenericFilm => {
  const found = genericFilms.find((one) => one.key === key)
  if (found === undefined) throw new Error(`no film ${key}`)
  return found
}

const stated = (one: GenericFilm): Stated[] =>
  Object.values(one).filter((value): value is Stated => 'origin' in Object(value))

test('the films asked for are there, each once', () => {
  const keys = genericFilms.map(({ key }) => key)
  expect(new Set(keys).size).toBe(keys.length)
  expect(keys).toEqual(expect.arrayContaining(['pet', 'bopp', 'pen', 'pi', 'pc', 'copper', 'aluminium', 'paper']))
})

describe.each(genericFilms.map((one) => [one.key, one] as const))('%s', (_, one) => {
  test('says of every value where it is from, and as much in words', () => {
    expect(stated(one)).toHaveLength(8)
    for (const { value, origin, source } of stated(one)) {
      expect(value).toBeGreaterThan(0)
      if (origin === 'memory') expect(source).toContain('from memory')
      else if (origin === 'illustrative') expect(source).toContain('illustrative')
      else expect(source).toMatch(/public/)
    }
  })

  test('is taken by a scenario, and runs well below its limit at its usual tension', () => {
    const { modulus, density, poisson, elasticLimit, expansion, roughness, runningStress, usual } = one
    const document = {
      ...{ thickness: `${usual[0]} m`, width: '0.4 m', modulus: `${modulus.value} Pa`, poisson: poisson.value },
      ...{ density: `${density.value} kg/m^3`, elasticLimit: `${100 * elasticLimit.value} %` },
      ...{ expansion: `${expansion.value} 1/K`, roughness: `${roughness.value} m` },
    }
    expect(v.safeParse(filmSchema, document).issues).toBeUndefined()
    expect(runningStress.value / modulus.value / elasticLimit.value).toBeLessThanOrEqual(0.5)
  })
})

test('one pound per inch and mil is 6.895 MPa, and PET of 36 µm runs at some 185 N/m', () => {
  const unit = fromUnit(1, 'lbf/in') / fromUnit(1, 'mil')
  expect(unit / 1e6).toBeCloseTo(6.895, 3)
  expect(film('pet').runningStress.value / unit).toBeCloseTo(0.75, 12)
  expect(film('pet').runningStress.value * 36e-6).toBeGreaterThan(180)
  expect(film('pet').runningStress.value * 36e-6).toBeLessThan(190)
})

test.each([
  ['pet', 'modulus', 4.5e9, 4.8e9],
  ['pen', 'modulus', 5e9, 6.2e9],
  ['copper', 'modulus', 50e9, 70e9],
  ['pi', 'density', 1420, 1420],
  ['pet', 'expansion', 17e-6, 17e-6],
] as const)('%s: %s lies in the range of the sheets', (key, field, low, high) => {
  expect(film(key)[field].value).toBeGreaterThanOrEqual(low)
  expect(film(key)[field].value).toBeLessThanOrEqual(high)
})

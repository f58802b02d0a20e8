/** Troughs against an independent eigenvalue, against limits known beforehand, and the short formula against the exact minimum. */
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { plateStiffness, troughAmplitude, troughs, type Strip } from '../../src/wrinkle/plate'
import { foldLimit, heldCompression } from '../../src/wrinkle/shell'
import { root } from '../tools/process.mjs'
import { anySetting } from './setting'

interface Film extends Strip {
  readonly width: number
  readonly stress: number
  readonly compression: number
  readonly halfWaves: number
  readonly gridError: number
}

const reference = JSON.parse(readFileSync(join(root, 'tests', 'reference', 'troughs.json'), 'utf8')) as {
  films: readonly Film[]
  squarePlateError: number
}

describe('against Ritz with SciPy (tests/reference/troughs.py)', () => {
  test('there are ten films, all computed closely', () => {
    expect(reference.films).toHaveLength(10)
    expect(reference.squarePlateError).toBeLessThan(1e-4)
    for (const { gridError } of reference.films) expect(gridError).toBeLessThan(2e-3)
  })

  test.each(reference.films.map((film, n) => [n, film] as const))('film %i: compression within 2 %', (_, film) => {
    const { limit } = troughs(film, film.stress)
    expect(Math.abs(limit / film.compression - 1)).toBeLessThan(0.02)
  })

  test.each(reference.films.map((film, n) => [n, film] as const))('film %i: half waves across, to one', (_, film) => {
    const { wavelength } = troughs(film, film.stress)
    expect(Math.abs(film.width / (wavelength / 2) - film.halfWaves)).toBeLessThan(1)
  })
})

const pet: Strip = { thickness: 25e-6, length: 0.5, modulus: 4.5e9, poisson: 0.3 }

test('no wave number buckles at less than the limit, and the one told does at it', () => {
  const stress = 7e6
  const { limit, wavelength } = troughs(pet, stress)
  const [d, p] = [plateStiffness(pet), (Math.PI / pet.length) ** 2]
  const needed = (q: number) => (d * (p + q * q) ** 2 + stress * pet.thickness * p) / (q * q) / pet.thickness
  const q = (2 * Math.PI) / wavelength
  expect(needed(q) / limit).toBeCloseTo(1, 12)
  for (const share of [0.2, 0.5, 0.9, 0.99, 1.01, 1.1, 2, 5]) expect(needed(share * q)).toBeGreaterThan(limit)
})

test('without tension it is a plate strip: 4 D (pi/L)^2/h, square waves', () => {
  const { limit, wavelength, approximation } = troughs(pet, 0)
  expect(limit).toBeCloseTo((4 * plateStiffness(pet) * (Math.PI / 0.5) ** 2) / 25e-6, 12)
  expect(wavelength).toBeCloseTo(2 * 0.5, 12)
  expect(approximation).toBe(0)
})

test('thickness to nothing: limit falls as h, wavelength as the root of h, at a given stress', () => {
  const [thin, thinner] = [1e-8, 5e-9].map((thickness) => troughs({ ...pet, thickness }, 7e6))
  expect(thin.limit / thinner.limit).toBeCloseTo(2, 3)
  expect(thin.wavelength / thinner.wavelength).toBeCloseTo(Math.SQRT2, 3)
})

test('the short formula: its error is that of the first order, always too low, and told', () => {
  fc.assert(
    fc.property(anySetting, (s) => {
      const stress = s.tension / s.thickness
      const { limit, approximation, approximationError } = troughs(s, stress)
      const ratio = (stress * s.thickness) / ((Math.PI / s.length) ** 2 * plateStiffness(s))
      expect(approximation).toBeLessThan(limit)
      expect(approximation / limit).toBeCloseTo(1 - approximationError, 9)
      if (ratio > 2500) expect(approximationError).toBeLessThan(0.02)
      if (ratio > 1e4) expect(approximationError * Math.sqrt(ratio)).toBeCloseTo(1, 1)
      if (ratio < 100) expect(approximationError).toBeGreaterThan(0.08)
    }),
  )
})

test('depth: the length of a sine of this amplitude is longer by the shortening', () => {
  const found = troughs(pet, 7e6)
  const shortening = 3e-4
  const amplitude = troughAmplitude(found, found.limit + shortening * pet.modulus, pet.modulus)
  const steps = 2000
  let length = 0
  for (let i = 0; i < steps; i++) {
    const angle = (2 * Math.PI * (i + 0.5)) / steps
    const slope = ((amplitude * 2 * Math.PI) / found.wavelength) * Math.cos(angle)
    length += Math.sqrt(1 + slope * slope) / steps
  }
  expect(length - 1).toBeCloseTo(shortening, 6)
  expect(troughAmplitude(found, 0.99 * found.limit, pet.modulus)).toBe(0)
})

test('a fold: halving thickness or doubling the radius halves the limit; what is held goes with width', () => {
  const limit = foldLimit(25e-6, 0.05, 4.5e9, 0.3)
  expect(foldLimit(12.5e-6, 0.05, 4.5e9, 0.3)).toBeCloseTo(limit / 2, 6)
  expect(foldLimit(25e-6, 0.1, 4.5e9, 0.3)).toBeCloseTo(limit / 2, 6)
  // friction on half the width, pressed by T/R: 0.3 x 175/0.05 x 0.15 N/m over 25 um
  expect(heldCompression(0.3, 175, 0.05, 0.3, 25e-6)).toBeCloseTo((0.3 * (175 / 0.05) * 0.15) / 25e-6, 6)
})

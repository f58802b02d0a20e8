/** The range that a number is asked about, its values as text, and what is said of where a limit is kept. */
import fc from 'fast-check'
import { expect, test } from 'vitest'
import {
  extentOf,
  isWide,
  offerAt,
  onGoodSide,
  readValue,
  scaleOf,
  textOf,
  valuesIn,
  type Crossing,
} from '../../src/app/ask/values'
import { sentenceOf, type Told } from '../../src/app/ask/words'
import { templates } from '../../src/app/build/templates'
import { fieldAt } from '../../src/app/stage/fields'
import type { Path } from '../../src/app/state/document'
import { toUnit } from '../../src/units'

const printLine = templates.find(({ key }) => key.endsWith('print-line'))?.document ?? null

function fieldOf(path: Path) {
  const [field] = fieldAt(printLine, path)
  if (!field) throw new Error(`no field at ${path.join('/')}`)
  return field
}

test('the usual range, widened to the present value', () => {
  expect(extentOf(fieldOf(['line', 6, 'mass']))).toEqual({ low: 2, high: 8 })
  const diameter = extentOf(fieldOf(['line', 0, 'drag']))
  // 0.15 N m stands above the usual 0.005 to 0.05 N m
  expect(diameter).toEqual({ low: 0.005, high: 0.15 })
})

test('values rise, hold both ends and the present one, and keep ratios over a wide range', () => {
  const range = fc.tuple(fc.integer({ min: 1, max: 1000 }), fc.integer({ min: 1, max: 100_000 }))
  fc.assert(
    fc.property(range, fc.integer({ min: 0, max: 100 }), ([low, more], share) => {
      const extent = { low, high: low + more }
      const present = low + (more * share) / 100
      const values = valuesIn(extent, 11, present)
      expect(values[0]).toBe(low)
      expect(values.at(-1)).toBe(extent.high)
      expect(values.every((value, i) => i === 0 || value > (values[i - 1] ?? 0))).toBe(true)
      expect(values.some((value) => Math.abs(value - present) <= 1e-9 * more)).toBe(true)
    }),
  )
  const [a = 0, b = 0, c = 0] = valuesIn({ low: 1, high: 1000 }, 4, undefined)
  expect(isWide({ low: 1, high: 1000 })).toBe(true)
  expect([b / a, c / b].map((ratio) => ratio.toFixed(6))).toEqual(['10.000000', '10.000000'])
})

test('text with its unit or a bare number in the shown one', () => {
  const scale = scaleOf(fieldOf(['line', 6, 'mass']), 'metric')
  expect(scale).toEqual({ kind: 'mass', unit: 'kg' })
  expect([readValue('5', scale), readValue('5000 g', scale), readValue('five', scale)]).toEqual([5, 5, undefined])
  expect(textOf(5.25, scale)).toBe('5.25 kg')
})

test('a limit is rounded to the side on which it holds', () => {
  const kilograms = { kind: 'mass', unit: 'kg' } as const
  expect(onGoodSide(5.0867, false, kilograms)).toBeCloseTo(5.08, 12)
  expect(onGoodSide(5.0867, true, kilograms)).toBeCloseTo(5.09, 12)
  expect(onGoodSide(-5.0867, false, kilograms)).toBeCloseTo(-5.09, 12)
  expect(onGoodSide(0, true, kilograms)).toBe(0)
})

/** Bisection of a bracket at a crossing that is known, with the upper or the lower side kept. */
function crossingAt(crossing: number, from: number, to: number, isLowKept: boolean, halvings: number): Crossing {
  let [low, high] = [from, to]
  for (let i = 0; i < halvings; i++) {
    const middle = (low + high) / 2
    if (middle <= crossing) low = middle
    else high = middle
  }
  return isLowKept ? { value: low, beyond: high, from } : { value: high, beyond: low, from: to }
}

test('what is offered keeps the limit, lies beyond no sample, and is the last of three digits where that is said', () => {
  const grams = { kind: 'mass', unit: 'g' } as const
  const whole = (min: number, max: number) => fc.integer({ min, max })
  let sure = 0
  fc.assert(
    fc.property(
      whole(1, 99_999),
      whole(1, 9999),
      whole(1, 50_000),
      fc.boolean(),
      whole(2, 12),
      (start, share, size, up, n) => {
        const [low, high] = [start / 1000, (start + size) / 1000]
        const crossing = low + ((high - low) * share) / 10_000
        const found = crossingAt(crossing, low, high, up, n)
        const { value, word, toThreeDigits } = offerAt(found, grams)
        // As it is put into the line.
        const put = readValue(textOf(value, grams, 10), grams) ?? NaN
        const near = 1e-9 * high
        expect(word).toBe(up ? 'largest' : 'smallest')
        if (up) expect(put <= crossing + near && put >= low - near).toBe(true)
        else expect(put >= crossing - near && put <= high + near).toBe(true)
        if (!toThreeDigits) return
        sure++
        const digits = Number(toUnit(put, 'g', 'mass').toPrecision(10))
        expect(Number(digits.toPrecision(3))).toBe(digits)
        // Nothing of three digits lies between the offer and the limit.
        const closer = onGoodSide(crossing, !up, grams)
        expect(Math.abs(closer - put) <= near || Math.abs(closer - crossing) <= near).toBe(true)
      },
    ),
    { numRuns: 500 },
  )
  expect(sure).toBeGreaterThan(50)
})

test('three digits are not claimed where the last bracket holds two of them, and more are taken in a narrow range', () => {
  const kilograms = { kind: 'mass', unit: 'kg' } as const
  const wide = { value: 5.083, beyond: 5.097, from: 5 }
  expect(offerAt(wide, kilograms)).toEqual({ value: 5.08, word: 'largest', toThreeDigits: false })
  expect(offerAt({ ...wide, beyond: 5.089 }, kilograms).toThreeDigits).toBe(true)
  // The next of three digits is the end of the bracket that does not keep it.
  expect(offerAt({ ...wide, beyond: 5.09 }, kilograms).toThreeDigits).toBe(true)
  const narrow = { value: 5.0834, beyond: 5.0836, from: 5.081 }
  expect(offerAt(narrow, kilograms)).toEqual({ value: 5.083, word: 'largest', toThreeDigits: false })
})

test('at the limit a sentence tells the value in full, elsewhere rounded', () => {
  const sentence = sentenceOf({
    ...told,
    stretches: [{ from: 2, to: 5.083, begins: 'end', ends: 'limit' }],
    text: (value) => value.toFixed(1),
    exact: (value) => `${value} kg`,
  })
  expect(sentence).toMatch(/^Mass keeps it up to 5.083 kg:/)
})

const told: Told = {
  ...{ figure: 'share of elastic limit', limit: 'at most 40 %', label: 'Mass' },
  text: (value) => `${value} kg`,
  exact: (value) => `${value} kg`,
  samples: [
    { x: 2, kept: true },
    { x: 8, kept: false },
  ],
  stretches: [],
}

test('said in a sentence: up to, from, between, everywhere, nowhere, and where it cannot be run', () => {
  const of = (stretches: Told['stretches'], samples = told.samples) => sentenceOf({ ...told, stretches, samples })
  expect(of([{ from: 2, to: 5, begins: 'end', ends: 'limit' }])).toBe(
    'Mass keeps it up to 5 kg: share of elastic limit at most 40 %.',
  )
  expect(of([{ from: 5, to: 8, begins: 'limit', ends: 'end' }])).toMatch(/from 5 kg on:/)
  expect(of([{ from: 3, to: 5, begins: 'limit', ends: 'limit' }])).toMatch(/between 3 kg and 5 kg:/)
  expect(of([{ from: 2, to: 8, begins: 'end', ends: 'end' }])).toMatch(/^It is kept everywhere from 2 kg to 8 kg/)
  expect(of([])).toMatch(/^Nowhere from 2 kg to 8 kg is it kept/)
  expect(
    of(
      [],
      [
        { x: 2, kept: null },
        { x: 8, kept: null },
      ],
    ),
  ).toMatch(/^The line could not be run with any value/)
})

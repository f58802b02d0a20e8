/** The record of stretches in a roll against a plain table of the same points. */
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { WoundRecord } from '../../src/film/wound'

test('before anything is noted the roll is as delivered', () => {
  const record = new WoundRecord(1.002)
  expect([-5, 0, 5].map((s) => record.at(s))).toEqual([1.002, 1.002, 1.002])
})

test('between two records the stretch goes in a straight line; below the first it is as delivered', () => {
  const record = new WoundRecord(1.002)
  record.note(1, 1.003, 100)
  record.note(3, 1.005, 100)
  record.note(4, 1.001, 100)
  expect(record.at(0.99)).toBe(1.002)
  expect(record.at(1)).toBe(1.003)
  expect(record.at(2)).toBeCloseTo(1.004, 14)
  expect(record.at(3.25)).toBeCloseTo(1.004, 14)
  expect(record.at(7)).toBe(1.001)
})

test('what comes off is forgotten, and noting lower takes off what lay above', () => {
  const record = new WoundRecord(1)
  for (const [s, stretch] of [
    [1, 1.1],
    [2, 1.2],
    [3, 1.3],
  ] as const)
    record.note(s, stretch, 100)
  record.comeOff(2.5)
  expect(record.length).toEqual([1, 2])
  expect(record.at(2.4)).toBe(1.2)
  record.note(1.5, 1.7, 100)
  expect(record.length).toEqual([1, 1.5])
  expect(record.at(1.25)).toBeCloseTo(1.4, 14)
  record.comeOff(-1)
  expect(record.at(0)).toBe(1)
})

test('noting the same place twice keeps the later', () => {
  const record = new WoundRecord(1)
  record.note(1, 1.1, 100)
  record.note(2, 1.2, 100)
  record.note(2, 1.4, 100)
  expect(record.length).toEqual([1, 2])
  expect(record.at(1.5)).toBeCloseTo(1.25, 14)
  record.comeOff(2)
  expect(record.length).toEqual([1])
})

test('the tension that film went on with is kept beside its stretch', () => {
  const record = new WoundRecord(1)
  record.note(1, 1.1, 40)
  record.note(2, 1.2, 50)
  record.note(3, 1.3, 60)
  record.comeOff(2.5)
  expect(record.tension).toEqual([40, 50])
  record.replace(1)
  expect(record.tension).toEqual([])
})

test('another roll knows nothing of the one before', () => {
  const record = new WoundRecord(1)
  record.note(1, 1.1, 100)
  record.replace(1.004)
  expect(record.at(1)).toBe(1.004)
})

test('any record reads like the table that was written', () => {
  const notes = fc.array(
    fc.record({
      step: fc.double({ min: 1e-6, max: 2, noNaN: true }),
      stretch: fc.double({ min: 1, max: 1.1, noNaN: true }),
    }),
    { minLength: 1, maxLength: 40 },
  )
  fc.assert(
    fc.property(notes, fc.double({ min: 0, max: 1, noNaN: true }), (list, share) => {
      const record = new WoundRecord(0.9)
      const table: { s: number; stretch: number }[] = []
      let s = 0
      for (const { step, stretch } of list) {
        record.note((s += step), stretch, 100)
        table.push({ s, stretch })
      }
      const k = Math.min(Math.floor(share * table.length), table.length - 1)
      const [low, high] = [table[k], table[k + 1] ?? table[k]]
      const expected = low.stretch + share * (high.stretch - low.stretch)
      expect(record.at(low.s + share * (high.s - low.s))).toBeCloseTo(expected, 9)
    }),
    { seed: 1 },
  )
})

/** What fields take, and what people are told when a file does not fit. */
import * as v from 'valibot'
import { describe, expect, test } from 'vitest'
import {
  choice,
  exampleOf,
  fieldInfo,
  flag,
  freeText,
  nameText,
  plainNumber,
  quantity,
  wholeNumber,
} from '../../src/units'
import { nearest, problemsOf, type AnySchema } from '../../src/units'

const pulley = v.strictObject({
  part: v.literal('pulley'),
  name: nameText({ meaning: 'What it is called' }),
  diameter: quantity('diameter', { meaning: 'Diameter', usual: ['60 mm', '100 mm'], above: 0, most: 2 }),
  turn: choice(['left', 'right'], { meaning: 'Which way' }),
  ratio: v.optional(plainNumber({ meaning: 'Ratio', above: 0, most: 1 }), 0.5),
  teeth: v.optional(wholeNumber({ meaning: 'Teeth', least: 1 })),
  open: v.optional(flag({ meaning: 'Open' }), false),
  remark: v.optional(freeText({ meaning: 'Remark' }, 20), ''),
  drag: v.optional(quantity('torque', { meaning: 'Drag', least: 0 }), '0.1 N m'),
})
const gap = v.strictObject({ part: v.literal('gap'), length: quantity('length', { meaning: 'Length', above: 0 }) })
const file = v.strictObject({
  things: v.array(v.variant('part', [pulley, gap])),
  named: v.optional(v.record(nameText({ meaning: 'Key' }), gap), {}),
})

const good = { part: 'pulley', name: 'first', diameter: '80 mm', turn: 'left' }

function said(input: unknown, schema: AnySchema = file): string[] {
  const result = v.safeParse(schema, input)
  return result.success ? [] : problemsOf(result.issues, input, schema).map((problem) => problem.say)
}
const saidOf = (change: Record<string, unknown>) => said({ things: [{ ...good, ...change }] })

describe('values', () => {
  test('come out in SI, with what is taken when a field is left out', () => {
    expect(v.parse(pulley, good)).toEqual({
      ...{
        part: 'pulley',
        name: 'first',
        diameter: 0.08,
        turn: 'left',
        ratio: 0.5,
        open: false,
        remark: '',
        drag: 0.1,
      },
    })
  })

  test('bounds hold at their ends', () => {
    expect(saidOf({ diameter: '2 m', drag: '0 N m', ratio: 1, teeth: 1 })).toEqual([])
  })
})

describe('messages name the field, what was found and what would be right', () => {
  test.each<[string, Record<string, unknown>, string]>([
    [
      'no unit',
      { diameter: '80' },
      'things/0 first/diameter: found "80", expected a diameter with a unit, such as "80 mm". Write "80 mm", or with another of its units: in, m, cm, µm, ft, mil, gauge.',
    ],
    [
      'a bare number',
      { diameter: 80 },
      'things/0 first/diameter: found 80, expected a diameter with a unit, such as "80 mm". Write it in quotes, with its unit: "80 mm".',
    ],
    [
      'below',
      { diameter: '-1 mm' },
      'things/0 first/diameter: found "-1 mm", expected a diameter above 0 mm and at most 2000 mm.',
    ],
    [
      'at an open end',
      { diameter: '0 mm' },
      'things/0 first/diameter: found "0 mm", expected a diameter above 0 mm and at most 2000 mm.',
    ],
    [
      'above',
      { diameter: '3 m' },
      'things/0 first/diameter: found "3 m", expected a diameter above 0 mm and at most 2000 mm.',
    ],
    [
      'below a closed end',
      { drag: '-1 N m' },
      'things/0 first/drag: found "-1 N m", expected a torque of at least 0 N m.',
    ],
    [
      'wrong word',
      { turn: 'lft' },
      'things/0 first/turn: found "lft", expected one of "left", "right". Did you mean "left"?',
    ],
    ['far word', { turn: 'over' }, 'things/0 first/turn: found "over", expected one of "left", "right".'],
    [
      'number as text',
      { ratio: '0.5' },
      'things/0 first/ratio: found "0.5", expected a number. Write it without quotes or a unit.',
    ],
    ['number outside', { ratio: 2 }, 'things/0 first/ratio: found 2, expected a number above 0 and at most 1.'],
    ['NaN', { ratio: Number.NaN }, 'things/0 first/ratio: found NaN, expected a number.'],
    [
      'infinite',
      { ratio: Infinity },
      'things/0 first/ratio: found Infinity, expected a number of ordinary size. The number is too large.',
    ],
    ['no whole', { teeth: 1.5 }, 'things/0 first/teeth: found 1.5, expected a whole number.'],
    [
      'no flag',
      { open: 'true' },
      'things/0 first/open: found "true", expected true or false. Write it without quotes.',
    ],
    [
      'long text',
      { remark: 'x'.repeat(21) },
      'things/0 first/remark: found "xxxxxxxxxxxxxxxxxxxxx", expected text of at most 20 characters.',
    ],
    [
      'null',
      { diameter: null },
      'things/0 first/diameter: found null, expected a diameter with a unit, such as "80 mm".',
    ],
    [
      'list',
      { diameter: [] },
      'things/0 first/diameter: found a list, expected a diameter with a unit, such as "80 mm".',
    ],
    [
      'missing',
      { diameter: undefined },
      'things/0 first/diameter: found nothing, expected a diameter with a unit, such as "80 mm".',
    ],
  ])('%s', (_, change, sentence) => {
    expect(saidOf(change)).toEqual([sentence])
  })

  test('a missing key: what to write', () => {
    expect(said({ things: [{ part: 'pulley', name: 'first', turn: 'left' }] })).toEqual([
      'things/0 first/diameter: found nothing, expected a diameter. Write "diameter": "60 mm" (Diameter).',
    ])
    expect(said({})).toEqual(['things: found nothing, expected "things" with a list, [ ... ].'])
    expect(said({ things: [{ part: 'pulley', diameter: '1 m', turn: 'left' }] })).toEqual([
      'things/0 pulley/name: found nothing, expected "name". Write "name": "idler 1" (What it is called).',
    ])
  })

  test('unknown keys: the nearest known one that is still free, or all; and all unknown keys at once', () => {
    expect(saidOf({ openn: true })).toEqual(['things/0 first/openn: found the unknown key "openn", expected "open".'])
    const said = saidOf({ colour: 'red', weight: '3 kg' })
    expect(said).toHaveLength(2)
    expect(said[0]).toBe(
      'things/0 first/colour: found the unknown key "colour", expected one of the keys "ratio", "teeth", "open", "remark", "drag".',
    )
  })

  test('a variant that is not known, is not stated, or is none', () => {
    expect(said({ things: [{ part: 'puley' }] })).toEqual([
      'things/0 puley/part: found "puley", expected one of "pulley", "gap". Did you mean "pulley"?',
    ])
    expect(said({ things: [{ name: 'a' }] })).toEqual([
      'things/0 a/part: found nothing, expected "part" with one of "pulley", "gap".',
    ])
    expect(said({ things: [7] })).toEqual([
      'things/0: found 7, expected an object, { "part": "pulley" or "gap", ... }.',
    ])
    expect(said({ things: {} })).toEqual(['things: found an object, expected a list, [ ... ].'])
    expect(said(null)).toEqual(['scenario: found null, expected an object, { ... }.'])
  })

  test('names', () => {
    const wording = 'expected a name of 1 to 60 letters, digits, spaces, - _ or . with at least one letter.'
    for (const name of ['', '7', 'a/b', ' a', 'a ', '<b>', 'x'.repeat(61), 'a\nb']) {
      expect(saidOf({ name })[0], name).toContain(wording)
    }
    for (const name of ['idler 1', 'Tänzer', 'a', 'nip-2_b.c', 'x'.repeat(60)])
      expect(saidOf({ name }), name).toEqual([])
    for (const name of ['__proto__', 'constructor', 'prototype', 'toString']) {
      expect(saidOf({ name })[0], name).toContain('is a reserved word')
    }
    expect(said({ things: [], named: { 'a/b': { part: 'gap', length: '1 m' } } })[0]).toContain(
      `named/a/b: found the name "a/b", ${wording}`,
    )
  })

  test('the path for programs has no names in it', () => {
    const input = { things: [{ ...good, diameter: '80' }] }
    const result = v.safeParse(file, input)
    expect(problemsOf(result.issues ?? [], input, file)[0]?.path).toBe('things/0/diameter')
  })

  test('even without the schema at hand', () => {
    const input = { things: [{ ...good, openn: true }] }
    const result = v.safeParse(file, input)
    expect(problemsOf(result.issues ?? [], input).map((problem) => problem.path)).toContain('things/0/openn')
  })
})

describe('what pages read of a field', () => {
  test('through optional, with what is taken when it is left out', () => {
    expect(fieldInfo(pulley.entries.drag)).toEqual({
      type: 'quantity',
      kind: 'torque',
      notes: { meaning: 'Drag' },
      least: 0,
      optional: true,
      fallback: '0.1 N m',
    })
    expect(fieldInfo(pulley.entries.diameter)).toMatchObject({ optional: false, above: 0, most: 2 })
    expect(fieldInfo(pulley.entries.turn)?.options).toEqual(['left', 'right'])
    expect(fieldInfo(pulley)).toBeUndefined()
  })

  test('an example that the field itself takes', () => {
    for (const [key, schema] of Object.entries(pulley.entries)) {
      const info = fieldInfo(schema)
      if (!info) continue
      expect(v.is(schema, JSON.parse(exampleOf(info))), key).toBe(true)
    }
  })
})

describe('the nearest known word', () => {
  test.each([
    ['diametr', 'diameter'],
    ['Diameter', 'diameter'],
    ['drga', 'drag'],
    ['weight', undefined],
    ['', undefined],
    ['x'.repeat(1000), undefined],
  ])('%s', (word, expected) => {
    expect(nearest(word, ['diameter', 'drag', 'name'])).toBe(expected)
  })
})

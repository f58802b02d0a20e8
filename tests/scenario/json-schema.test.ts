/** The JSON Schema that editors use: made from the sources, committed, and no stricter than the reading. */
import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import { kindNames, kinds, parseQuantity } from '../../src/units'
import { jsonSchemaText, quantityPattern, schemaFile } from '../tools/json-schema'

test('the committed file is up to date (if not: node tests/tools/schema.mjs)', async () => {
  expect(readFileSync(schemaFile, 'utf8')).toBe(await jsonSchemaText())
})

test('every field says what it means', async () => {
  const schema = JSON.parse(await jsonSchemaText()) as { $defs: Record<string, { properties: Record<string, object> }> }
  const bare = Object.entries(schema.$defs).flatMap(([name, { properties }]) =>
    Object.entries(properties)
      .filter(
        ([, field]) =>
          !(
            'description' in field ||
            'const' in field ||
            'oneOf' in field ||
            'properties' in field ||
            'items' in field
          ),
      )
      .map(([key]) => `${name}/${key}`),
  )
  expect(bare).toEqual([])
  expect(Object.keys(schema.$defs)).toEqual(expect.arrayContaining(['film', 'dancer', 'zero-speed-splice']))
})

test('the pattern for a quantity takes whatever the reading takes', () => {
  const pattern = new RegExp(quantityPattern)
  const spellings = [
    '36µm',
    '-.5e-1 mm',
    '\u22125 mm',
    '90°',
    '5%',
    '2 s^-1',
    '2 1 / s',
    '3 1/(m s)',
    '3 (N m)',
    '1\u00a0mm',
    ' 1 mm ',
  ]
  const units = kindNames.flatMap((kind) => kinds[kind].units.map((unit) => `7 ${unit}`))
  for (const text of [...spellings, ...units]) {
    expect(
      kindNames.some((kind) => parseQuantity(text, kind).ok),
      text,
    ).toBe(true)
    expect(pattern.test(text), text).toBe(true)
  }
  for (const text of ['80', '0,5 mm', 'NaN mm', 'mm', '', '1,250 mm']) expect(pattern.test(text), text).toBe(false)
})

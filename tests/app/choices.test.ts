/** What a choice is written as: whatever its list offers can be read back. */
import { readFileSync, readdirSync } from 'node:fs'
import { expect, test } from 'vitest'
import { formAt } from '../../src/app/build/form'
import { written } from '../../src/app/stage/fields'
import { at, withValue, type Json } from '../../src/app/state/document'
import { scenarioSchema } from '../../src/scenario/schema'
import { schemaAt } from '../../src/units'
import * as v from 'valibot'

const folder = 'scenarios'
const documents = readdirSync(folder).map(
  (name) => [name, JSON.parse(readFileSync(`${folder}/${name}`, 'utf8')) as Json] as const,
)

test.each(documents)(
  'every option of every choice of a part of %s is of the kind that the file takes',
  (_, document) => {
    const line = at(document, ['line'])
    const count = Array.isArray(line) ? line.length : 0
    const groups = Array.from({ length: count }, (_, place) => formAt(document, ['line', place]).groups).flat()
    const choices = groups.flatMap(({ fields }) => fields).filter(({ info }) => info.type === 'choice')
    expect(choices.length).toBeGreaterThan(count / 2)
    for (const field of choices) {
      for (const option of field.info.options ?? []) {
        const value = written(field, option)
        const schema = schemaAt(scenarioSchema, document, field.path)
        expect(schema && v.safeParse(schema, value).success, `${field.key}: ${option}`).toBe(true)
        expect(at(withValue(document, field.path, value), field.path)).toEqual(value)
      }
    }
  },
)

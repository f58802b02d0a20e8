/** Forms made from the schema: nothing that can be stated is left out, and whatever is offered can be read. */
import { expect, test } from 'vitest'
import { controlsToAdd } from '../../src/app/build/controls'
import { formAt, ofKind } from '../../src/app/build/form'
import { entriesOf } from '../../src/app/build/line'
import { templates } from '../../src/app/build/templates'
import { written } from '../../src/app/stage/fields'
import { listAt, withValue, type Json } from '../../src/app/state/document'
import { readDocument } from '../../src/scenario/read'

const template = (name: string): Json => templates.find(({ key }) => key.endsWith(name))?.document ?? null
const printLine = template('print-line')
const placeOf = (name: string) => entriesOf(printLine).find((one) => one.name === name)?.place ?? -1

test('a dancer: its own fields, and a cylinder that may be added', () => {
  const { groups, additions } = formAt(printLine, ['line', placeOf('infeed dancer')])
  const keys = groups[0]?.fields.map(({ path }) => path[2])
  expect(keys).toEqual(expect.arrayContaining(['mass', 'damping', 'slidingFriction', 'stores', 'upperStop', 'arm']))
  // Its name is changed where those that refer to it follow.
  expect(keys).not.toContain('name')
  expect(additions.map(({ title }) => title)).toEqual(['Cylinder'])
})

test('a nip: yes or no as a choice, its drive with the kinds that it can be of', () => {
  const { groups } = formAt(printLine, ['line', placeOf('print nip')])
  const nip = groups[0]?.fields.find(({ path }) => path[2] === 'nip')
  expect([nip?.value, nip?.info.options]).toEqual(['yes', ['yes', 'no']])
  expect(nip && [written(nip, 'yes'), written(nip, 'no')]).toEqual([true, false])
  const drive = groups.find(({ title }) => title === 'Drive')
  expect(drive?.kinds).toEqual({ word: 'servo', options: ['ideal', 'lag', 'servo'] })
})

test('every kind of every drive of every template begins with figures that are read', () => {
  for (const { document } of templates) {
    for (const { place } of entriesOf(document)) {
      const drive = formAt(document, ['line', place]).groups.find(({ title }) => title === 'Drive')
      for (const word of drive?.kinds?.options ?? []) {
        const value = ofKind(document, ['line', place, 'drive'], word)
        const without = withValue(withValue(document, ['line', place, 'drive'], value), ['control'], [])
        const reading = readDocument(withValue(without, ['stage'], []))
        expect([place, word, reading.ok ? [] : reading.problems]).toEqual([place, word, []])
      }
    }
  }
})

test('what a film, speed, limits and controls may state', () => {
  expect(formAt(printLine, ['films', 'A']).additions.map(({ title }) => title)).toEqual(['In the roll'])
  for (const path of [['speed'], ['limits'], ['run'], ['control', 0]]) {
    expect(formAt(printLine, path).groups[0]?.fields.length).toBeGreaterThan(1)
  }
  const measures = formAt(printLine, ['control', 0]).groups[0]?.fields.find(({ path }) => path[2] === 'measures')
  expect(measures?.info.options).toEqual(['infeed dancer'])
})

test.each(templates.map(({ key, document }) => [key, document] as const))(
  '%s: each control that is offered is read, and the others say what they need',
  (_, document) => {
    for (const { control, why } of controlsToAdd(document)) {
      expect(control === undefined).toBe(why !== '')
      if (control === undefined) continue
      expect(readDocument(withValue(document, ['control'], [...listAt(document, 'control'), control])).ok).toBe(true)
    }
  },
)

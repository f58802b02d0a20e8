/** Which part's numbers stand first. */
import { expect, test } from 'vitest'
import { fieldGroups } from '../../src/app/fields/catalogue'
import { partInHand, selectedFirst } from '../../src/app/fields/selected'
import { gallery } from '../../src/app/state/gallery'
import { firstScenario, fromDocument } from '../../src/app/state/scenario'
import { withValue } from '../../src/app/state/document'
import { scenarioSchema } from '../../src/scenario/schema'

const { document } = firstScenario
const keysFirst = (name: string | undefined): string[] =>
  selectedFirst(document, fieldGroups(document, scenarioSchema), name).map(({ key }) => key)

test('the part picked goes before the one that the question is about, and that before the first dancer', () => {
  const about = { ...firstScenario, part: 'unwind' }
  expect(partInHand(document, firstScenario, null)).toBe('infeed dancer')
  expect(partInHand(document, about, null)).toBe('unwind')
  expect(partInHand(document, about, 'idler 3')).toBe('idler 3')
})

test('a name that the line no longer has counts as none', () => {
  const renamed = withValue(document, ['line', 6, 'name'], 'front dancer')
  expect(partInHand(renamed, firstScenario, 'infeed dancer')).toBe('front dancer')
  expect(partInHand(null, null, 'idler 1')).toBeUndefined()
  expect(partInHand({ line: [{ part: 'unwind', name: 'unwind' }] }, null, null)).toBeUndefined()
})

test('every question of the gallery names a part that its line has', () => {
  for (const scenario of gallery.filter(({ part }) => part !== undefined)) {
    const plain = fromDocument(scenario.key, scenario.document)
    expect(partInHand(scenario.document, scenario, null), scenario.key).toBe(scenario.part)
    expect(partInHand(scenario.document, plain, null), scenario.key).not.toBe(scenario.part)
  }
})

test('a dancer stands first, the trim that measures it next, all else as before', () => {
  const before = fieldGroups(document, scenarioSchema).map(({ key }) => key)
  const after = keysFirst('infeed dancer')
  expect(after.slice(0, 2)).toEqual(['line/6', 'control/0'])
  expect(after.slice(2)).toEqual(before.filter((key) => key !== 'line/6' && key !== 'control/0'))
  expect(keysFirst(undefined)).toEqual(before)
})

test('an idler, which has no main number, gets a group while it is in hand', () => {
  expect(keysFirst(undefined)).not.toContain('line/2')
  expect(keysFirst('idler 1')[0]).toBe('line/2')
})

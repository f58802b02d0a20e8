/** Building a line: templates that run, and edits after which rollers and spans still alternate and names still mean someone. */
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { filmFields, runningTension, toldOf } from '../../src/app/build/films'
import { added, canMove, copied, entriesOf, freeName, moved, removed, whyStays, wordAt } from '../../src/app/build/line'
import {
  referencesTo,
  referringKeys,
  renamedFilm,
  renamedPart,
  withoutReferences,
} from '../../src/app/build/references'
import { partsToAdd, startingOf, trimOf } from '../../src/app/build/starting'
import { templates } from '../../src/app/build/templates'
import { at, listAt, withValue, type Json } from '../../src/app/state/document'
import { genericFilms } from '../../src/film/catalogue'
import { controlSchemas } from '../../src/line/control'
import { partSchemas } from '../../src/line/parts'
import { eventSchemas } from '../../src/line/stage'
import { prepare } from '../../src/run/prepare'
import { readDocument } from '../../src/scenario/read'
import { scenarioSchema } from '../../src/scenario/schema'
import {
  bare,
  childOf,
  fieldInfo,
  isObjectSchema,
  isVariantSchema,
  parseQuantity,
  type AnySchema,
} from '../../src/units'

const template = (name: string): Json => templates.find(({ key }) => key.endsWith(name))?.document ?? null
const printLine = template('print-line')

const problems = (document: Json): readonly string[] => {
  const reading = readDocument(document)
  return reading.ok ? [] : reading.problems.map(({ say }) => say)
}

/** mm of all spans together */
const lengthOf = (document: Json): number =>
  listAt(document, 'line').reduce<number>((sum, part) => {
    const length = parseQuantity(wordAt(part, 'length'), 'length')
    return sum + (length.ok ? length.value : 0)
  }, 0)

const alternates = (document: Json): boolean =>
  listAt(document, 'line').every((part, place) => (wordAt(part, 'part') === 'span') === (place % 2 === 1))

const placeOf = (document: Json, name: string): number =>
  entriesOf(document).find((entry) => entry.name === name)?.place ?? -1

describe('templates', () => {
  test('there are a few', () => {
    expect(templates.length).toBeGreaterThan(2)
  })

  test.each(templates.map(({ key, document }) => [key, document] as const))(
    '%s reads, runs and finishes',
    (_, document) => {
      expect(problems(document)).toEqual([])
      const run = prepare(document)
      if (!('step' in run)) throw new Error('refused')
      let outcome = run.step()
      while (!outcome) outcome = run.step()
      if (outcome.outcome !== 'finished') throw new Error(JSON.stringify(outcome))
      expect(
        outcome.summary.spans.every(({ limitShare, slackSeconds }) => limitShare < 0.4 && slackSeconds === 0),
      ).toBe(true)
      expect(outcome.summary.dancers.every(({ stopSeconds }) => stopSeconds === 0)).toBe(true)
    },
  )
})

describe('parts', () => {
  test.each(partsToAdd.map(({ label, part }) => [label, part] as const))(
    'a %s can be added behind any part of any template, twice',
    (_, part) => {
      for (const { document } of templates) {
        for (const { place } of entriesOf(document)) {
          const once = added(document, place, part)
          const twice = added(once.document, once.place, part)
          expect(problems(twice.document)).toEqual([])
          expect(entriesOf(twice.document).length).toBe(entriesOf(document).length + 2)
        }
      }
    },
  )

  test('a copy stands behind its part under a free name', () => {
    const { document, place } = copied(printLine, placeOf(printLine, 'idler 2'))
    expect(wordAt(listAt(document, 'line')[place], 'name')).toBe('idler 8')
    expect(place).toBe(placeOf(printLine, 'idler 2') + 2)
    expect(problems(document)).toEqual([])
  })

  test('taking a part out leaves the length of the film path', () => {
    const document = removed(printLine, placeOf(printLine, 'idler 4'))
    expect(lengthOf(document)).toBeCloseTo(lengthOf(printLine), 12)
    expect(entriesOf(document).length).toBe(entriesOf(printLine).length - 1)
    expect(problems(document)).toEqual([])
  })

  test('the rolls at the ends neither move nor go, and the last roller stays', () => {
    const [first, second] = entriesOf(printLine)
    const last = entriesOf(printLine).at(-1)
    for (const place of [first?.place ?? -1, last?.place ?? -1]) {
      expect([canMove(printLine, place, 1), canMove(printLine, place, -1), whyStays(printLine, place)]).toEqual([
        false,
        false,
        expect.stringContaining('stand at the ends'),
      ])
    }
    expect(canMove(printLine, second?.place ?? -1, -1)).toBe(false)
    const few = withValue(
      printLine,
      ['line'],
      listAt(printLine, 'line').filter((_, i, all) => i < 3 || i > all.length - 3),
    )
    expect(whyStays(few, 2)).toMatch(/last roller/)
  })

  test('after any edits rollers and spans alternate, names differ, and the film path is as long as its spans', () => {
    const edits = fc.array(
      fc.record({ what: fc.integer({ min: 0, max: 3 }), where: fc.integer({ min: 0, max: 40 }), by: fc.boolean() }),
      { maxLength: 25 },
    )
    fc.assert(
      fc.property(fc.constantFrom(...templates), edits, ({ document: start }, list) => {
        let document = start
        for (const { what, where, by } of list) {
          const entries = entriesOf(document)
          const { place } = entries[where % entries.length] ?? { place: 0 }
          if (what === 0) {
            const offer = partsToAdd[where % partsToAdd.length]
            if (offer) ({ document } = added(document, place, offer.part))
          } else if (what === 1) ({ document } = copied(document, place))
          else if (what === 2) ({ document } = moved(document, place, by ? 1 : -1))
          else if (whyStays(document, place) === '') {
            const before = lengthOf(document)
            document = removed(document, place)
            expect(lengthOf(document)).toBeCloseTo(before, 9)
          }
        }
        expect(alternates(document)).toBe(true)
        const names = entriesOf(document).map(({ name }) => name)
        expect(new Set(names).size).toBe(names.length)
        expect(wordAt(listAt(document, 'line')[0], 'part')).toBe('unwind')
        expect(wordAt(listAt(document, 'line').at(-1), 'part')).toBe('rewind')
      }),
      { numRuns: 200 },
    )
  })

  test('a free name counts on', () => {
    expect(freeName(printLine, 'idler')).toBe('idler 8')
    expect(freeName(printLine, 'idler 2')).toBe('idler 8')
    expect(freeName(printLine, 'bar')).toBe('bar')
    expect(freeName(printLine, 'print nip')).toBe('print nip 2')
  })
})

/** Every schema that lies in another, with its key. */
function* inside(schema: AnySchema, key = ''): Generator<readonly [string, AnySchema]> {
  const plain = bare(schema)
  yield [key, schema]
  if (isObjectSchema(plain)) for (const [name, entry] of Object.entries(plain.entries)) yield* inside(entry, name)
  if (isVariantSchema(plain)) for (const option of plain.options) yield* inside(option, key)
  const item = childOf(plain, 0)
  if (item && plain.type === 'array') yield* inside(item, key)
}

describe('references', () => {
  test('every field of the schema that holds a name is known here', () => {
    const roots: readonly AnySchema[] = [...partSchemas, ...controlSchemas, ...eventSchemas]
    const named = new Set(
      roots.flatMap((root) =>
        [...inside(root)].filter(([, schema]) => fieldInfo(schema)?.type === 'name').map(([k]) => k),
      ),
    )
    const known: readonly string[] = [...referringKeys.part, ...referringKeys.film]
    expect([...named].filter((key) => key !== 'name' && !known.includes(key))).toEqual([])
    expect(known.filter((key) => !named.has(key))).toEqual([])
  })

  test('controls and events follow a rename', () => {
    const index = template('index-line')
    const document = renamedPart(index, placeOf(index, 'index nip'), 'stamping nip')
    expect(problems(document)).toEqual([])
    expect(at(document, ['stage', 0, 'roller'])).toBe('stamping nip')
    const again = renamedPart(document, placeOf(document, 'infeed dancer'), 'first dancer')
    expect(problems(again)).toEqual([])
    expect(at(again, ['control', 0, 'measures'])).toBe('first dancer')
  })

  test('so do the roll and the splice of a film', () => {
    const document = renamedFilm(printLine, 'A', 'tag base')
    expect(problems(document)).toEqual([])
    expect(at(document, ['line', 0, 'film'])).toBe('tag base')
  })

  test('a part that is deleted takes with it what refers to it, told by name beforehand', () => {
    const index = template('index-line')
    expect(referencesTo(index, 'part', 'index nip').map(({ owner }) => owner)).toEqual(['the changeover staged at 2 s'])
    expect(referencesTo(index, 'part', 'infeed dancer').map(({ owner }) => owner)).toEqual([
      'the position trim of unwind',
    ])
    const bare = removed(withoutReferences(index, 'infeed dancer'), placeOf(index, 'infeed dancer'))
    expect(problems(bare)).toEqual([])
    expect(listAt(bare, 'control').length).toBe(1)
    const without = withoutReferences(index, 'index nip')
    expect(problems(removed(without, placeOf(without, 'index nip')))).toEqual([])
  })
})

describe('what is added begins with values that are taken', () => {
  test('a trim', () => {
    const document = withValue(printLine, ['control'], [trimOf('infeed dancer', 'unwind')])
    expect(problems(document)).toEqual([])
  })

  const parts = [
    ...partsToAdd.map(({ part }) => part),
    ...listAt(printLine, 'line').filter((part) => ['unwind', 'rewind'].includes(wordAt(part, 'part'))),
  ]
  const holders = parts.flatMap((part) => {
    const schema = partSchemas.find((one) => one.entries.part.literal === wordAt(part, 'part'))
    const groups = Object.entries<AnySchema>(schema?.entries ?? {}).filter(([key, entry]) => {
      const plain = bare(entry)
      return key !== 'drive' && (isObjectSchema(plain) || isVariantSchema(plain))
    })
    return groups.map(([key, entry]) => [wordAt(part, 'name'), key, entry] as const)
  })

  test.each(holders)('%s: %s', (name, key, schema) => {
    const offer = partsToAdd.find(({ part }) => part['name'] === name)
    const document = offer ? added(printLine, 4, offer.part).document : printLine
    const changed = withValue(document, ['line', placeOf(document, name), key], startingOf(schema))
    // A cylinder takes the place of a force.
    const settled =
      key === 'cylinder' ? withValue(changed, ['line', placeOf(changed, name), 'force'], undefined) : changed
    expect(problems(settled)).toEqual([])
  })
})

test.each(genericFilms.map((film) => [film.key, film] as const))(
  '%s from the catalogue is a film that is taken',
  (_, film) => {
    const document = withValue(printLine, ['films', 'A'], filmFields(film))
    expect(problems(document)).toEqual([])
    expect(toldOf(film).every(({ source }) => source !== '')).toBe(true)
    expect(runningTension(film, 50e-6, 0.42)).toBeGreaterThan(1)
    expect(scenarioSchema.entries.films.type).toBe('record')
  },
)

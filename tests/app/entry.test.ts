import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { fieldGroups, type Field } from '../../src/app/fields/catalogue'
import {
  placeIn,
  readEntry,
  stepped,
  textAtPlace,
  textIn,
  usualRange,
  usualText,
  valueOf,
} from '../../src/app/fields/entry'
import type { Json } from '../../src/app/state/document'
import { scenarioSchema } from '../../src/scenario/schema'
import indexing from '../../scenarios/indexing-speeds.json'
import splice from '../../scenarios/zero-speed-splice.json'

const groups = (document: Json = splice) => fieldGroups(document, scenarioSchema)

function field(path: string, document?: Json): Field {
  const found = groups(document)
    .flatMap((group) => group.fields)
    .find(({ key }) => key === path)
  if (!found) throw new Error(`The panel has no field ${path}.`)
  return found
}

describe('the panel', () => {
  test('lists the main numbers by part, with the part named', () => {
    const titles = groups().map(({ title, note }) => `${title} (${note})`)
    expect(titles).toContain('Infeed dancer (dancer)')
    expect(titles).toContain('Rewind (torque drive)')
    expect(titles).toContain('Position trim (infeed dancer → unwind)')
    expect(titles.at(-1)).toBe('Run ()')
  })

  test('shows what stands in the file, else the default that stands for it', () => {
    expect(field('line/6/mass')).toMatchObject({ label: 'Mass', value: '4 kg', isDefault: false })
    expect(field('line/12/draw')).toMatchObject({ value: '0 %', isDefault: true })
  })

  test('shows all that an event states, and what matters of its new roll', () => {
    const event = groups().find(({ title }) => title === 'Zero-speed splice')
    expect(event?.fields.map(({ label }) => label)).toEqual([
      'Begins at',
      'Ramp down',
      'Hold',
      'Ramp up',
      'Refill',
      'Patch',
      'New roll diameter',
      'New roll wound tension',
    ])
  })

  test('shows how a roller indexes', () => {
    const roller = groups(indexing).find(({ title }) => title === 'Index roller')
    expect(roller?.fields.map(({ label, value }) => `${label} ${value}`).slice(-2)).toEqual([
      'Index pitch 200 mm',
      'Index move 0.8 s',
    ])
  })

  test('an empty document has no numbers', () => {
    expect(groups(null)).toEqual([])
    expect(groups({})).toEqual([])
  })
})

describe('a step moves the last digit shown', () => {
  test.each([
    ['4 kg', 1, '5 kg'],
    ['4.0 kg', 1, '4.1 kg'],
    ['4.0 kg', 10, '5.0 kg'],
    ['0.05 %', -1, '0.04 %'],
    ['0.0 N', -1, '-0.1 N'],
    ['-90 mm', 1, '-89 mm'],
    ['-0.1 %', 1, '0.0 %'],
    ['1.6e-3 kg m^2', 1, '1.7e-3 kg m^2'],
    ['.5 s', 1, '0.6 s'],
    ['99 N', 1, '100 N'],
    ['7', 1, '8'],
  ])('%s by %i: %s', (text, steps, expected) => {
    expect(stepped(text, steps)).toBe(expected)
  })

  test('a text without a number has no step', () => {
    for (const text of ['', 'abc', '. N', '-']) expect(stepped(text, 1)).toBeUndefined()
  })

  test('a step forth and back leads to the same number', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: -1e9, max: 1e9 }),
        fc.integer({ min: 0, max: 6 }),
        fc.integer({ min: -50, max: 50 }),
        (digits, places, steps) => {
          const text = `${(digits / 10 ** places).toFixed(places)} N`
          const there = stepped(text, steps) ?? ''
          expect(Number.parseFloat(stepped(there, -steps) ?? '')).toBe(Number.parseFloat(text))
          expect(Number.parseFloat(there)).toBeCloseTo(Number.parseFloat(text) + steps / 10 ** places, places + 1)
        },
      ),
    )
  })
})

describe('an entry', () => {
  test('is taken with any unit of its kind, as it was typed', () => {
    expect(readEntry(field('line/6/mass'), ' 9 lb ')).toEqual({ ok: true, value: '9 lb' })
  })

  test.each([
    ['line/6/mass', '3', /^Mass: found "3", expected a mass with a unit.*"3 kg"/],
    ['line/6/mass', '3 N', /^Mass: found "3 N".*measures a force/],
    ['line/6/mass', '', /^Mass: found "", expected a mass/],
    ['line/6/mass', '-1 kg', /^Mass: found "-1 kg", expected a mass above 0 kg/],
    ['line/6/force', '3 kg', /"3 kgf"/],
    ['line/6/force', '3,5 N', /"3\.5 N"/],
  ])('%s: "%s" is refused in words', (path, text, expected) => {
    expect(readEntry(field(path), text)).toMatchObject({ ok: false, say: expect.stringMatching(expected) as string })
  })
})

describe('the other system', () => {
  test('says a length in inches, and leaves alone what is the same in both', () => {
    expect(textIn(field('films/A/thickness'), 'metric')).toBe('36 µm')
    expect(textIn(field('films/A/thickness'), 'inch')).toBe('1.417 mil')
    expect(textIn(field('films/A/elasticLimit'), 'inch')).toBe('0.5 %')
    expect(textIn(field('line/0/drive/bandwidth'), 'inch')).toBe('25 rad/s')
  })

  test('the usual range is told in the unit of the text', () => {
    expect(usualText(field('line/6/mass'), '4 kg')).toBe('2 to 8 kg')
    expect(usualText(field('line/6/mass'), '4000 g')).toBe('2000 to 8000 g')
  })
})

describe('the knob', () => {
  const mass = field('line/6/mass')
  const range = usualRange(mass) ?? { low: NaN, high: NaN }

  test('stands at the ends of the usual range and not beyond', () => {
    expect(range).toEqual({ low: 2, high: 8 })
    expect([0, 2, 5, 8, 80].map((value) => placeIn(range, value))).toEqual([0, 0, 0.5, 1, 1])
  })

  test('writes the value in the unit that stands there', () => {
    expect(textAtPlace(mass, range, 0.5, '4 kg')).toBe('5 kg')
    expect(textAtPlace(mass, range, 0.5, '4000 g')).toBe('5000 g')
  })

  test('what it writes lies in the range, is read, and stays where it was put', () => {
    for (const path of [
      'line/6/mass',
      'line/0/drive/bandwidth',
      'line/6/force',
      'control/0/gain',
      'films/A/thickness',
    ]) {
      const one = field(path)
      const usual = usualRange(one) ?? { low: NaN, high: NaN }
      fc.assert(
        fc.property(fc.double({ min: 0, max: 1, noNaN: true }), (share) => {
          const text = textAtPlace(one, usual, share, String(one.value))
          const entry = readEntry(one, text)
          expect(entry.ok).toBe(true)
          expect(placeIn(usual, valueOf(one, text) ?? NaN)).toBeCloseTo(share, 1)
        }),
      )
    }
  })
})

/** The Roll page's pure halves: pasted points, taper written into a scenario, table for the drive, cut across, fields. */
import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { additionsTo, placesIn, rollGroups } from '../../src/app/pages/roll/fields'
import { factorsText, readPasted, stackText } from '../../src/app/pages/roll/pasted'
import { momentsOf, ringsOf, scaleOf, STEPS, stepOf } from '../../src/app/pages/roll/section'
import { changesTo } from '../../src/app/pages/roll/setting'
import { taperTable } from '../../src/app/pages/roll/taper-table'
import { at, withValue, type Json } from '../../src/app/state/document'
import { convert, fitStack, rollInput, solveRoll } from '../../src/roll'
import { readDocument } from '../../src/scenario/read'
import { scenarioSchema } from '../../src/scenario/schema'

const documentOf = (file: string) => JSON.parse(readFileSync(`scenarios/${file}`, 'utf8')) as Json
const thin = documentOf('roll-too-little-taper.json')

function inputOf(document: Json) {
  const reading = readDocument(document)
  if (!reading.ok) throw new Error(reading.problems.map(({ say }) => say).join())
  return rollInput(reading.scenario, document)
}

describe('pasted points', () => {
  test('columns parted by blanks, tabs, commas or semicolons; a heading is no mistake', () => {
    const wanted = [
      { pressure: 10e3, strain: 0.012 },
      { pressure: 50e3, strain: 0.039 },
    ]
    for (const text of ['10 1.2\n50  3.9', 'kPa\t%\n10\t1.2\n50\t3.9\n', '10, 1.2\r\n50, 3.9', '10;1,2\n50;3,9']) {
      const { points, skipped } = readPasted(text, 'kPa', '%')
      expect(skipped).toEqual([])
      points.forEach(({ pressure, strain }, k) => {
        expect(pressure).toBeCloseTo(wanted[k].pressure, 6)
        expect(strain).toBeCloseTo(wanted[k].strain, 12)
      })
      expect(points.length).toBe(2)
    }
    expect(readPasted('1 0.5', 'psi', 'share').points[0].pressure).toBeCloseTo(6894.757, 2)
  })

  test('lines that are no two numbers are named', () => {
    // decimal commas beside blanks; an index before the two columns
    expect(readPasted('10,5 1,2\n20,5 2,2', 'kPa', '%')).toMatchObject({ points: [], skipped: [1, 2] })
    expect(readPasted('1 10 1.2\n2 20 2.1', 'kPa', '%')).toMatchObject({ points: [], skipped: [1, 2] })
    expect(readPasted(Array.from({ length: 2003 }, (_, k) => `${k + 1} 1`).join('\n'), 'kPa', '%').cut).toBe(3)
    expect(readPasted('10 1\nnothing\n20 2\n30', 'kPa', '%').skipped).toEqual([2, 4])
  })

  test('a fitted stack is written so that it reads back as the same', () => {
    const points = [5, 10, 20, 50, 100, 200, 400, 800].map((p) => ({
      pressure: p * 1e3,
      strain: Math.log1p(p / 15) / 60,
    }))
    for (const law of ['Pfeiffer', 'cubic', 'constant'] as const) {
      const fit = fitStack(points, law)
      if (!fit.ok) throw new Error(fit.say)
      const document = withValue(thin, ['films', 'A', 'inRoll', 'stack'], stackText(fit.stack))
      const { stack, basis } = inputOf(document)
      expect(stack.law).toBe(law)
      expect(basis['stack modulus']).toBe('measured')
      expect(factorsText(fit).length).toBe(law === 'cubic' ? 4 : law === 'Pfeiffer' ? 2 : 1)
    }
  })
})

describe('a taper written into a scenario', () => {
  test('any converted law reads back as itself, and nothing is written twice', () => {
    const input = inputOf(thin)
    const base = placesIn(thin)?.taper ?? []
    for (const law of ['constant', 'hyperbolic', 'blend', 'power', 'table'] as const) {
      const { taper } = convert(input.taper, input.core.outer, law, 'same final tension')
      const changes = changesTo(thin, base, taper, input.taper, 'inch')
      const document = changes.reduce((one, { path, value }) => withValue(one, path, value), thin)
      const again = inputOf(document)
      expect(again.taper.law).toBe(law)
      const [wanted, found] = [taper, again.taper].map((t) =>
        convert(t, input.core.outer, 'constant', 'same final tension'),
      )
      expect(found.taper.tension / wanted.taper.tension).toBeCloseTo(1, 3)
      expect(changesTo(document, base, again.taper, again.taper, 'inch')).toEqual([])
    }
  })
})

test('the table for the drive has a unit in every heading and as many decimals down a column', () => {
  const { head, rows } = taperTable(inputOf(thin), 4, 'inch')
  expect(head).toEqual(
    expect.arrayContaining(['Diameter, in', 'Tension, lbf', 'Torque, lbf in', 'Turn rate, rpm', 'Length, ft']),
  )
  expect(rows.length).toBe(5)
  head.forEach((_, c) => {
    expect(new Set(rows.map((row) => (row[c].split('.')[1] ?? '').length)).size).toBe(1)
  })
})

describe('the cut across', () => {
  const result = solveRoll(inputOf(thin))
  if (result.outcome !== 'finished') throw new Error('refused')

  test.each(['pressure', 'hoop stress'] as const)(
    'rings of %s cover the roll without a gap, each of its step',
    (shown) => {
      const moments = momentsOf(result, shown)
      const scale = scaleOf(moments)
      expect(moments.map(({ name }) => name).slice(-3)).toEqual(['winding', 'full', 'later'])
      for (const moment of moments) {
        const rings = ringsOf(moment, scale)
        expect(rings[0].from).toBe(moment.radius[0])
        expect(rings[rings.length - 1].to).toBe(moment.radius[moment.radius.length - 1])
        rings.slice(1).forEach(({ from }, k) => expect(from).toBe(rings[k].to))
      }
    },
  )

  test('steps reach from the least to the most', () => {
    const scale = { least: -1, most: 1 }
    expect([-1, 0, 1, 5, -5].map((value) => stepOf(value, scale))).toEqual([0, 2, STEPS - 1, STEPS - 1, 0])
  })
})

describe('the fields of the page', () => {
  test('those of the law in hand, of the core and of what happens later', () => {
    const keys = rollGroups(thin, scenarioSchema).flatMap(({ fields }) => fields.map(({ label }) => label))
    expect(keys).toEqual(
      expect.arrayContaining(['Taper', 'Core modulus', 'Stack slope', 'Friction', 'Air leaves', 'Blocking pressure']),
    )
    expect(keys).not.toContain('Exponent')
    const labels = rollGroups(withValue(thin, ['line', 14, 'drive', 'law'], 'power'), scenarioSchema)
    expect(labels.flatMap(({ fields }) => fields.map(({ label }) => label))).toContain('Exponent')
  })

  test('what a scenario leaves out can be added, and the roll still winds', () => {
    const plain = documentOf('start-stop.json')
    expect(placesIn(plain)?.taper).toBeUndefined()
    const additions = additionsTo(plain)
    expect(additions.map(({ key }) => key)).toEqual(['stack', 'core', 'layOn', 'ring'])
    const full = additions.reduce<Json>((document, { path, value }) => withValue(document, path, value), plain)
    expect(additionsTo(full)).toEqual([])
    expect(solveRoll(inputOf(full)).outcome).toBe('finished')
  })

  test('nothing without a line', () => {
    expect(rollGroups({ line: [] }, scenarioSchema)).toEqual([])
    expect(at(thin, placesIn(thin)?.rewind ?? [])).toMatchObject({ part: 'rewind' })
  })
})

test('what is offered for a core is the bore that was taken for it', () => {
  const bare = structuredClone(thin) as { line: Record<string, Json>[] }
  for (const part of bare.line.filter((one) => one['part'] === 'rewind')) {
    delete part['coreTube']
    part['core'] = '45 mm'
  }
  const offer = additionsTo(bare as Json).find(({ key }) => key === 'core')
  expect(offer?.value).toMatchObject({ bore: '38.1 mm' })
  expect(2 * inputOf(bare as Json).core.bore).toBeCloseTo(0.0381, 9)
})

/** A document as text: nothing lost, nothing reordered, a part to a line. */
import fc from 'fast-check'
import { readdirSync, readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { readScenario } from '../../src/scenario/read'
import { writeScenario } from '../../src/scenario/write'
import { sample } from './sample'

describe('writing', () => {
  test('reads back equal, with the keys in their order, whatever the document', () => {
    fc.assert(
      fc.property(fc.jsonValue({ maxDepth: 6 }), (value) => {
        const text = writeScenario(value)
        expect(JSON.stringify(JSON.parse(text))).toBe(JSON.stringify(value))
      }),
      { numRuns: 500 },
    )
  })

  test('writing what was read gives the same text again', () => {
    const once = writeScenario(sample())
    const reading = readScenario(once)
    expect(reading.ok && writeScenario(reading.document)).toBe(once)
  })

  test.each(readdirSync('scenarios').filter((name) => name.endsWith('.json')))('scenarios/%s loses nothing', (name) => {
    const text = readFileSync(`scenarios/${name}`, 'utf8')
    const reading = readScenario(text)
    expect(reading.ok && JSON.stringify(JSON.parse(writeScenario(reading.document)))).toBe(
      JSON.stringify(JSON.parse(text)),
    )
  })

  test('a short part stands on one line, a long one is opened', () => {
    const lines = writeScenario({
      line: [
        { part: 'span', length: '1 m' },
        { part: 'idler', about: 'x'.repeat(200), list: [] },
      ],
      run: { for: '1 s' },
      gone: undefined,
    }).split('\n')
    expect(lines).toEqual([
      '{',
      '  "line": [',
      '    { "part": "span", "length": "1 m" },',
      '    {',
      '      "part": "idler",',
      `      "about": "${'x'.repeat(200)}",`,
      '      "list": []',
      '    }',
      '  ],',
      '  "run": { "for": "1 s" }',
      '}',
      '',
    ])
  })

  test('a change of one part is a change of one line', () => {
    const before = writeScenario(sample()).split('\n')
    const after = writeScenario(JSON.parse(JSON.stringify(sample()).replace('"700 mm"', '"800 mm"')) as unknown).split(
      '\n',
    )
    expect(after.filter((line, n) => line !== before[n])).toEqual(['    { "part": "span", "length": "800 mm" },'])
  })
})

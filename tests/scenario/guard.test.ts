/** What comes from outside and is no scenario at all: text that is not JSON, sizes, poison. */
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { readDocument, readScenario, type Reading } from '../../src/scenario/read'
import { problemsIn, sample, spoilt, type Json } from './sample'

const saidOf = (reading: Reading) => problemsIn(reading).map(({ say }) => say)
const text = (value: Json) => JSON.stringify(value)

describe('text that is not JSON says where, and what it should have been', () => {
  test.each([
    ['', 'scenario: found an empty file, expected a scenario file in JSON.'],
    [' \n ', 'scenario: found an empty file, expected a scenario file in JSON.'],
    ['nope', 'scenario: found "nope" in line 1, column 1, expected a value.'],
    [
      '{',
      'scenario: found the end of the file in line 1, column 2, expected a key in double quotes. The file seems to be cut off.',
    ],
    [
      '{\n "a": [1, 2',
      'scenario: found the end of the file in line 2, column 12, expected a comma or "]". The file seems to be cut off.',
    ],
    [
      '{\n  "a": 1,\n}',
      'scenario: found "}" in line 3, column 1, expected a key in double quotes. Take away the comma before it.',
    ],
    ['[1,]', 'scenario: found "]" in line 1, column 4, expected a value. Take away the comma before it.'],
    ['{"a": 1 "b": 2}', 'scenario: found "\\"" in line 1, column 9, expected a comma or "}".'],
    [
      '{"a" 1}',
      'scenario: found "1" in line 1, column 6, expected a colon after the key. A quantity is written in double quotes with its unit, such as "80 mm".',
    ],
    ["{'a': 1}", `scenario: found "'" in line 1, column 2, expected a key in double quotes. Use double quotes.`],
    ['// hello\n{}', 'scenario: found "/" in line 1, column 1, expected a value. JSON has no comments; use "about".'],
    [
      '{"a": NaN}',
      'scenario: found "NaN" in line 1, column 7, expected a value. It has to be an ordinary, finite number.',
    ],
    [
      '{"a": -Infinity}',
      'scenario: found "-Infinity" in line 1, column 7, expected a value. It has to be an ordinary, finite number.',
    ],
    [
      '{"a": 80 mm}',
      'scenario: found "mm" in line 1, column 10, expected a comma or "}". A quantity is written in double quotes with its unit, such as "80 mm".',
    ],
    [
      '{"a": 01}',
      'scenario: found "01" in line 1, column 7, expected a value. A quantity is written in double quotes with its unit, such as "80 mm".',
    ],
    ['{} {}', 'scenario: found "{" in line 1, column 4, expected the end of the file.'],
    ['{"a": "\t"}', 'scenario: found "\\"" in line 1, column 7, expected a value.'],
    [
      '{"films": {"A": {}, "A": {}}}',
      'films/A: found the key "A" twice, expected every key once. The second would silently replace the first.',
    ],
    [
      '{"a": 1, "\\u0061": 2}',
      'a: found the key "a" twice, expected every key once. The second would silently replace the first.',
    ],
  ])('%j', (file, sentence) => {
    expect(saidOf(readScenario(file))).toEqual([sentence])
  })

  test('the walk takes what the language takes, and only that', () => {
    fc.assert(
      fc.property(
        fc.json({ maxDepth: 5 }),
        fc.nat(),
        fc.constantFrom('', ',', '"', '}', ']', '0', 'e', '\\', '\n', ' '),
        (json, n, extra) => {
          const at = n % (json.length + 1)
          const file = json.slice(0, at) + extra + json.slice(at)
          let fits = true
          try {
            JSON.parse(file)
          } catch {
            fits = false
          }
          const sentences = saidOf(readScenario(file)).join('\n')
          const refused = /in line \d+, column \d+|an empty file|not JSON/.test(sentences)
          if (!/ twice, /.test(sentences)) expect(refused, sentences).toBe(!fits)
        },
      ),
      { numRuns: 2000 },
    )
  })
})

describe('numbers that are none', () => {
  test.each<[string, unknown, string]>([
    ['NaN', Number.NaN, 'run/tolerance: found NaN, expected a finite number of ordinary size.'],
    ['Infinity', Infinity, 'run/tolerance: found Infinity, expected a finite number of ordinary size.'],
    ['1e308', 1e308, 'run/tolerance: found 1e+308, expected a number of ordinary size. The number is too large.'],
  ])('%s', (_, value, sentence) => {
    const document = { ...sample(), run: { for: '30 s', tolerance: value } }
    expect(saidOf(readDocument(document))).toEqual([sentence])
  })

  test('1e999 in a file', () => {
    const file = text(spoilt('run/tolerance', 77)).replace('77', '1e999')
    expect(saidOf(readScenario(file))).toEqual([
      'run/tolerance: found Infinity, expected a finite number of ordinary size.',
    ])
  })
})

describe('sizes', () => {
  const many = (count: number) => Array.from({ length: count }, () => ({ part: 'span', length: '1 m' }))

  test('text', () => {
    expect(saidOf(readScenario(' '.repeat(2_000_001)))).toEqual([
      'scenario: found 2.0 MB of text, expected at most 2.0 MB of text.',
    ])
    expect(saidOf(readDocument({ title: 'x'.repeat(2_000_001) }))).toEqual([
      'scenario: found more than 2 MB of text, expected at most 2 MB of text.',
    ])
    expect(saidOf(readScenario(text(sample()).padEnd(2_000_000)))).toEqual([])
  })

  test('parts and events', () => {
    expect(saidOf(readDocument(spoilt('line', many(501))))).toEqual([
      'line: found 501 parts, expected at most 500 parts.',
    ])
    const events = Array.from({ length: 1001 }, () => ({ at: '1 s', do: 'stop' }))
    expect(saidOf(readDocument(spoilt('stage', events)))).toEqual([
      'stage: found 1001 events, expected at most 1000 events.',
    ])
    expect(saidOf(readDocument(spoilt('line', many(500)))).join()).not.toContain('at most 500')
  })

  test('depth', () => {
    const nested = (depth: number) => `${'['.repeat(depth)}${']'.repeat(depth)}`
    const sentence = (field: string) =>
      `${field}: found more than 32 levels inside each other, expected at most 32 levels.`
    const deep = spoilt('about', JSON.parse(nested(40)) as Json)
    expect(saidOf(readDocument(deep))).toEqual([sentence('about/0/0')])
    expect(saidOf(readScenario(text(deep)))).toEqual([sentence('about/0/0')])
    expect(saidOf(readScenario(nested(900_000)))).toEqual([sentence('0/0/0')])
    expect(saidOf(readScenario(nested(32))).join()).not.toContain('levels')
  })

  test('values', () => {
    const sentence = 'scenario: found more than 100000 values, expected at most 100000 values.'
    expect(saidOf(readDocument(new Array(200_000).fill(0)))).toEqual([sentence])
    const twins: unknown[] = []
    twins.push(twins, twins)
    expect(saidOf(readDocument(twins)).join()).toContain('levels inside each other')
  })

  test('so many problems that nobody would read them all', () => {
    const keys = Object.fromEntries(Array.from({ length: 5000 }, (_, n) => [`key${n}`, 1]))
    expect(problemsIn(readDocument({ ...sample(), ...keys }))).toHaveLength(100)
  })
})

describe('keys that reach for the prototype', () => {
  test.each(['__proto__', 'constructor', 'prototype', 'toString', 'hasOwnProperty'])('%s', (key) => {
    for (const path of [key, `films/${key}`, `line/2/${key}`, `run/${key}`]) {
      const file = text(spoilt(path.replace(key, 'POISON'), { polluted: true })).replace('POISON', key)
      const problems = problemsIn(readScenario(file))
      expect(problems.map((problem) => problem.path)).toEqual([path])
      expect(problems[0]?.say).toContain(`found the key "${key}", expected a known key. It is a reserved word.`)
    }
    expect(Object.hasOwn(Object.prototype, 'polluted')).toBe(false)
    expect(saidOf(readDocument(spoilt('line/2/name', key)))).toEqual([
      expect.stringContaining(`found "${key}", expected another name. "${key}" is a reserved word.`),
    ])
    expect(saidOf(readDocument(spoilt('line/0/film', key)))).toHaveLength(1)
  })
})

describe('things that JSON cannot hold', () => {
  test.each<[string, unknown, string]>([
    ['a function', () => 1, 'title: found a function, expected text, a number, a list or an object.'],
    ['a symbol', Symbol('x'), 'title: found a symbol, expected text, a number, a list or an object.'],
    ['a bigint', 1n, 'title: found a bigint, expected text, a number, a list or an object.'],
    ['a map', new Map(), 'title: found something that JSON cannot hold, expected text, a number, a list or an object.'],
  ])('%s', (_, value, sentence) => {
    expect(saidOf(readDocument({ ...sample(), title: value }))).toEqual([sentence])
  })

  test.each([undefined, null, 7, 'text', []])('%j is no scenario', (value) => {
    expect(saidOf(readDocument(value)).join()).toMatch(/^scenario: found .*, expected an object/)
  })
})

describe('nothing that comes from outside throws, and everything refused says why', () => {
  const holds = (reading: Reading) => {
    if (reading.ok) return
    expect(reading.problems.length).toBeGreaterThan(0)
    for (const { field, say, expected } of reading.problems) {
      expect(say.startsWith(`${field}: found `)).toBe(true)
      expect(expected).not.toMatch(/undefined|\[object|NaN/)
    }
  }

  test('any JSON', () => {
    fc.assert(fc.property(fc.jsonValue({ maxDepth: 6 }), (value) => holds(readDocument(value))))
  })

  test('any text', () => {
    fc.assert(fc.property(fc.string({ unit: 'binary' }), (value) => holds(readScenario(value))))
  })

  test('anything in any place of a good file', () => {
    const paths = pathsOf(sample())
    const anything = fc.oneof(
      fc.jsonValue({ maxDepth: 3 }),
      fc.constantFrom('1 mm', '0 N', '-1 s', '1e15 m', '5 %', 'A', 'unwind', true),
    )
    fc.assert(
      fc.property(fc.constantFrom(...paths), anything, (path, value) =>
        holds(readDocument(spoilt(path, value as Json))),
      ),
      { numRuns: 2000 },
    )
  })

  test('any place taken away', () => {
    for (const path of pathsOf(sample())) holds(readDocument(spoilt(path, undefined)))
  })
})

function pathsOf(value: Json, before = ''): string[] {
  if (typeof value !== 'object' || value === null) return []
  const keys = Array.isArray(value) ? [...value.keys()].map(String) : Object.keys(value)
  return keys.flatMap((key) => {
    const path = `${before}${key}`
    const inner = Array.isArray(value) ? value[Number(key)] : value[key]
    return [path, ...pathsOf(inner ?? null, `${path}/`)]
  })
}

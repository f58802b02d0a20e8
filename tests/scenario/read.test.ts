/** Reading a scenario file: what comes out, and what is said of a bad one, field by field. */
import { readdirSync, readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { readDocument, readScenario } from '../../src/scenario/read'
import { problemsIn, said, sample, spoilt, type Json } from './sample'

describe('a good file', () => {
  test('reads: SI inside, defaults filled in, the document as it was', () => {
    const reading = readScenario(JSON.stringify(sample()))
    if (!reading.ok) throw new Error(reading.problems.map(({ say }) => say).join('\n'))
    const { scenario, document } = reading
    expect(document).toEqual(sample())
    expect(scenario.films['A']).toMatchObject({ thickness: 3.6e-5, width: 0.42, poisson: 0.38, fillFactor: 1.05 })
    expect(scenario.line[2]).toMatchObject({ part: 'idler', diameter: 0.08, wrap: Math.PI / 2, drag: 0, friction: 0.3 })
    expect(scenario.line[1]).toEqual({ part: 'span', length: 0.7, filmDamping: 0.001 })
    expect(scenario.control[0]).toMatchObject({ kind: 'speed', gain: 1.2, integral: 0, limit: 10 / 60 })
    expect(scenario.limits).toMatchObject({
      shareOfElastic: 0.5,
      leastTension: 10,
      corePressure: 0.7e6,
      slipReserve: 1.5,
    })
    expect(scenario.run).toEqual({ for: 30, tick: 0.01, tolerance: 1e-6 })
    expect(scenario.stage.map((event) => event.at)).toEqual([1, 5])
  })

  test('may begin with a byte order mark, and leave out what has a default', () => {
    expect(readScenario(`\ufeff${JSON.stringify(sample())}`).ok).toBe(true)
    const short = ['about', 'control', 'stage', 'limits'].reduce<Json>(
      (file, key) => spoilt(key, undefined, file),
      sample(),
    )
    expect(said(short)).toEqual([])
  })

  test('reading does not change the document', () => {
    const document = sample()
    readDocument(document)
    expect(document).toEqual(sample())
  })

  const files = readdirSync('scenarios').filter((name) => name.endsWith('.json'))
  test.each(files)('scenarios/%s reads', (name) => {
    expect(problemsIn(readScenario(readFileSync(`scenarios/${name}`, 'utf8')))).toEqual([])
  })
})

/** Path, what is put there, the field that must be named, the sentence after it. */
type Case = [title: string, path: string, value: Json | undefined, field: string, sentence: string]

const wrongFields: Case[] = [
  [
    'missing unit',
    'line/2/diameter',
    '80',
    'line/2 idler 1/diameter',
    'found "80", expected a diameter with a unit, such as "80 mm". Write "80 mm", or with another of its units: in, m, cm, µm, ft, mil, gauge.',
  ],
  [
    'wrong dimension',
    'line/4/mass',
    '4 m',
    'line/4 infeed dancer/mass',
    'found "4 m", expected a mass with a unit, such as "4 kg". "m" measures a length.',
  ],
  [
    'a mass for a force',
    'line/4/force',
    '3 kg',
    'line/4 infeed dancer/force',
    'found "3 kg", expected a force with a unit, such as "60 N". "kg" is a mass, not a force; write "3 kgf", or a force in one of N, lbf, kN, kgf.',
  ],
  [
    'decimal comma',
    'line/1/length',
    '0,5 mm',
    'line/1 span/length',
    'found "0,5 mm", expected a length with a unit, such as "700 mm". Write "0.5 mm" with a decimal point.',
  ],
  [
    'negative thickness',
    'films/A/thickness',
    '-36 µm',
    'films/A/thickness',
    'found "-36 µm", expected a thickness above 0 µm and at most 0.01 m.',
  ],
  [
    'span without length',
    'line/1/length',
    '0 mm',
    'line/1 span/length',
    'found "0 mm", expected a length above 0 mm and at most 1000 m.',
  ],
  [
    'tick of nothing',
    'run/tick',
    '0 s',
    'run/tick',
    'found "0 s", expected a time of at least 1e-4 s and at most 10 s.',
  ],
  [
    'unknown part',
    'line/2/part',
    'idlr',
    'line/2 idler 1/part',
    'found "idlr", expected one of "unwind", "span", "idler", "bar", "driven", "dancer", "rewind". Did you mean "idler"?',
  ],
  [
    'unknown event',
    'stage/0/do',
    'explode',
    'stage/0 explode/do',
    'found "explode", expected one of "start", "stop", "speed", "zero-speed splice", "flying splice", "changeover", "draw", "dancer force", "dancer pressure", "set point", "winding tension", "free strain", "rewind change".',
  ],
  [
    'unknown kind of drive',
    'line/0/drive/kind',
    'motor',
    'line/0 unwind/drive/kind',
    'found "motor", expected one of "ideal", "lag", "servo", "brake", "torque".',
  ],
  [
    'a word for a drive',
    'line/0/drive',
    'ideal',
    'line/0 unwind/drive',
    'found "ideal", expected an object, { "kind": "ideal" or "lag" or "servo", ... }.',
  ],
  [
    'no drive',
    'line/0/drive',
    undefined,
    'line/0 unwind/drive',
    'found nothing, expected "drive" with an object, { "kind": "ideal" or "lag" or "servo", ... }.',
  ],
  [
    'unknown kind of trim',
    'control/0/kind',
    'sped',
    'control/0 position trim/kind',
    'found "sped", expected one of "speed", "ratio". Did you mean "speed"?',
  ],
  [
    'unknown control',
    'control/0/control',
    'magic',
    'control/0 magic/control',
    'found "magic", expected one of "position trim", "tension trim", "force taper".',
  ],
  ['unknown key', 'line/2/draag', '0 N m', 'line/2 idler 1/draag', 'found the unknown key "draag", expected "drag".'],
  [
    'missing key',
    'line/2/turn',
    undefined,
    'line/2 idler 1/turn',
    'found nothing, expected "turn". Write "turn": "left" (Which way the film turns, seen along its path).',
  ],
  [
    'a number too large',
    'run/for',
    '1e308 s',
    'run/for',
    'found "1e308 s", expected a time with a unit, such as "2 s". The number is too large.',
  ],
  ['no text', 'title', 7, 'title', 'found 7, expected text in quotes.'],
  ['no list', 'line', {}, 'line', 'found an object, expected a list, [ ... ].'],
  ['a list for an object', 'films', [], 'films', 'found a list, expected an object, { ... }.'],
  ['a list for an object with defaults', 'limits', [], 'limits', 'found a list, expected an object, { ... }.'],
  ['a list for a part', 'line/2', [], 'line/2', 'found a list, expected an object, { ... }.'],
  [
    'a list for a quantity',
    'line/2/diameter',
    [],
    'line/2 idler 1/diameter',
    'found a list, expected a diameter with a unit, such as "80 mm".',
  ],
  ['no yes or no', 'line/8/nip', 7, 'line/8 nip 1/nip', 'found 7, expected true or false.'],
  ['older than any', 'spanwright', 0, 'spanwright', 'found 0, expected the version of the file, 1.'],
  [
    'newer version',
    'spanwright',
    2,
    'spanwright',
    'found 2, expected at most version 1. The file was written by a newer version of this program: read it with that one.',
  ],
  [
    'no version',
    'spanwright',
    undefined,
    'spanwright',
    'found nothing, expected the version of the file. Write "spanwright": 1.',
  ],
  ['a version as text', 'spanwright', '1', 'spanwright', 'found "1", expected the version of the file, 1.'],
]

describe('one bad field', () => {
  test.each(wrongFields)('%s', (_, path, value, field, sentence) => {
    const problems = problemsIn(readDocument(spoilt(path, value)))
    expect(problems.map(({ say }) => say)).toEqual([`${field}: ${sentence}`])
    expect(problems[0]).toMatchObject({ field, path })
  })

  test('all bad fields are told at once', () => {
    const document = spoilt('line/2/diameter', '80', spoilt('films/A/width', 'wide', spoilt('run/for', 5)))
    expect(problemsIn(readDocument(document)).map(({ path }) => path)).toEqual([
      'films/A/width',
      'line/2/diameter',
      'run/for',
    ])
  })
})

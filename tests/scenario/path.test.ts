/** Fields by path, as the command line and sweeps name them. */
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { getField, setField } from '../../src/scenario/path'
import { readDocument } from '../../src/scenario/read'
import { sample, spoilt } from './sample'

function valueAt(path: string): unknown {
  const finding = getField(sample(), path)
  return finding.ok ? finding.field.value : finding.problem.say
}

describe('finding', () => {
  test.each<[string, unknown, (string | number)[]]>([
    ['line/infeed dancer/mass', '4 kg', ['line', 4, 'mass']],
    ['line/4/mass', '4 kg', ['line', 4, 'mass']],
    ['line/4 infeed dancer/mass', '4 kg', ['line', 4, 'mass']],
    ['line/1/length', '700 mm', ['line', 1, 'length']],
    ['films/A/thickness', '36 µm', ['films', 'A', 'thickness']],
    ['control/0/gain', '1.2 1/s', ['control', 0, 'gain']],
    ['stage/1/roll/diameter', '400 mm', ['stage', 1, 'roll', 'diameter']],
    ['line/rewind/drive/tension', '60 N', ['line', 10, 'drive', 'tension']],
    ['title', 'Five rollers', ['title']],
  ])('%s', (path, value, place) => {
    const finding = getField(sample(), path)
    expect(finding.ok && [finding.field.value, finding.field.place]).toEqual([value, place])
  })

  test('what is not written has its default', () => {
    expect(valueAt('line/infeed dancer/stiffness')).toBe('0 N/m')
    expect(valueAt('limits/leastTension')).toBe('10 N')
    expect(valueAt('films/A/fillFactor')).toBe(1.05)
    expect(valueAt('stage/0/rounding')).toBeUndefined()
  })

  test.each([
    [
      'line/infeed dancr/mass',
      'line/infeed dancr: found "infeed dancr", expected the name of a part, or its place in the list. Did you mean "infeed dancer"?',
    ],
    [
      'line/11/mass',
      'line/11: found "11", expected the name of a part, or its place in the list. Places run from 0 to 10.',
    ],
    [
      'line/4 idler 1/mass',
      'line/4 idler 1: found "4 idler 1", expected the name of a part, or its place in the list. Did you mean "idler 1"?',
    ],
    ['line/4/masss', 'line/4 infeed dancer/masss: found the unknown key "masss", expected "mass".'],
    [
      'line/1/mass',
      'line/1 span/mass: found the unknown key "mass", expected one of the keys "part", "length", "filmDamping".',
    ],
    ['films/B/thickness', 'films/B: found the unknown key "B", expected one of the keys "A".'],
    ['lines/0', 'lines: found the unknown key "lines", expected "line".'],
    ['line/4', 'line/4 infeed dancer: found a whole group of fields, expected the path of a single field.'],
    ['line', 'line: found a whole group of fields, expected the path of a single field.'],
    ['line/4/mass/kg', 'line/4 infeed dancer/mass/kg: found "kg", expected the path to end before it.'],
    ['', 'films'],
    ['line/__proto__/mass', 'expected the name of a part, or its place in the list'],
    ['__proto__/x', 'found the unknown key "__proto__"'],
    ['films/constructor', 'found the unknown key "constructor"'],
    ['control/trim/gain', 'control/trim: found "trim", expected a place in the list. Places run from 0 to 0.'],
  ])('%s is told apart', (path, words) => {
    expect(valueAt(path)).toContain(words)
  })

  test('an empty list', () => {
    const finding = getField(spoilt('control', []), 'control/0/gain')
    expect(finding.ok ? '' : finding.problem.say).toBe(
      'control/0: found "0", expected a place in the list. The list is empty.',
    )
  })

  test('never throws', () => {
    const words = fc.constantFrom(
      'line',
      '4',
      'films',
      'A',
      'mass',
      'infeed dancer',
      '__proto__',
      'constructor',
      '',
      '-1',
      '1e3',
    )
    fc.assert(
      fc.property(fc.array(fc.oneof(words, fc.string()), { maxLength: 6 }), fc.jsonValue(), (path, document) => {
        expect(typeof getField(sample(), path.join('/')).ok).toBe('boolean')
        expect(typeof getField(document, path.join('/')).ok).toBe('boolean')
      }),
    )
  })
})

describe('setting', () => {
  test.each<[string, string, string, unknown]>([
    ['line/infeed dancer/mass', '5 kg', 'line/4/mass', '5 kg'],
    ['films/A/poisson', '0.3', 'films/A/poisson', 0.3],
    ['run/tolerance', '1e-7', 'run/tolerance', 1e-7],
    ['line/nip 1/nip', 'false', 'line/8/nip', false],
    ['limits/leastTension', '15 N', 'limits/leastTension', '15 N'],
    ['line/rewind/drive/law', 'linear', 'line/10/drive/law', 'linear'],
  ])('%s to %s', (path, text, place, value) => {
    const before = sample()
    const setting = setField(before, path, text)
    expect(setting.ok && setting.document).toEqual(spoilt(place, value as never))
    expect(before).toEqual(sample())
    expect(setting.ok && readDocument(setting.document).ok).toBe(true)
  })

  test('what does not fit is told by reading', () => {
    const setting = setField(sample(), 'run/tolerance', 'fine')
    const reading = readDocument(setting.ok && setting.document)
    expect(reading.ok ? [] : reading.problems.map(({ say }) => say)).toEqual([
      'run/tolerance: found "fine", expected a number. Write it without quotes or a unit.',
    ])
  })

  test('an unknown path changes nothing', () => {
    expect(setField(sample(), 'line/4/masss', '5 kg').ok).toBe(false)
  })
})

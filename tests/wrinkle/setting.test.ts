/** What is said to bad settings, and what an assessment says in words. */
import { describe, expect, test } from 'vitest'
import { formatQuantity, kinds, type Kind } from '../../src/units'
import { assess, marginText, readSetting, startingDocument, wordsOf, type Setting } from '../../src/wrinkle'
import { starting } from './setting'

describe('a setting that cannot be', () => {
  test.each([
    ['tension', '0 N/m', 'a force per width above 0 N/m'],
    ['tension', '-5 N/m', 'a force per width above 0 N/m'],
    ['radius', '0 mm', 'a diameter above 0 mm'],
    ['thickness', '0 µm', 'a thickness above 0 µm'],
    ['thickness', '25', 'a thickness with a unit'],
    ['misalignment', '300 mm/m', 'a slope of at least -100 mm/m and at most 100 mm/m'],
    ['width', '', 'a width'],
  ])('%s %s is explained', (field, text, say) => {
    const reading = readSetting({ ...startingDocument, [field]: text })
    expect(reading.ok).toBe(false)
    if (reading.ok) return
    expect(reading.problems).toHaveLength(1)
    expect(reading.problems[0].say.startsWith(`${field}:`)).toBe(true)
    expect(reading.problems[0].say).toContain(say)
  })

  test('a field too many, and one too few', () => {
    const { width: _, ...rest } = startingDocument
    for (const document of [{ ...startingDocument, colour: 'red' }, rest]) expect(readSetting(document).ok).toBe(false)
  })
})

const say = (value: number, kind: Kind) => formatQuantity(value, kinds[kind].metric, 3)
const words = (changes: Partial<Setting>) => wordsOf(assess({ ...starting, ...changes }), say)
const all = (changes: Partial<Setting>) =>
  words(changes)
    .map(({ text }) => text)
    .join(' ')

describe('in words', () => {
  test('flat, troughs, fold, and a fold that is not held', () => {
    expect(words({ misalignment: 0 })[0]).toMatchObject({ severity: 'ok' })
    expect(words({ misalignment: 0 })[0].text).toContain('runs flat. It carries 0 %')
    expect(words({ misalignment: 4e-3 })[0].text).toMatch(
      /^The span has troughs 4\d(\.\d)? mm apart, \d+ µm from crest/,
    )
    expect(words({ heat: 60, speed: 0, radius: 0.1 })[0]).toMatchObject({ severity: 'bad' })
    expect(words({ heat: 60, speed: 0, radius: 0.1 })[0].text).toContain('friction holds the fold')
    expect(words({ heat: 60, speed: 20, radius: 0.1 })[0].text).toContain('friction cannot hold a fold')
  })

  test('with the misalignment of each limit and the shear it goes by', () => {
    const { span } = assess(starting)
    expect(all({})).toContain(`Troughs begin at a misalignment of ${say(span.critical.mean, 'slope')} by mean shear`)
    expect(all({ heat: 90, radius: 0.1 })).toContain('the compression for a fold is there without any')
  })

  test.each([
    ['one edge is slack', { misalignment: 0.02 }, 'One edge hangs slack'],
    ['it is narrower than a trough', { width: 0.02 }, 'narrower than one trough'],
    ['the short formula is off', { tension: 0.05, length: 0.2 }, 'The short formula for troughs is'],
    ['it floats', { speed: 20 }, 'The film floats'],
    ['it is stretched too far', { tension: 1500 }, 'it will not come back'],
    ['the roller bends it too sharply', { radius: 1e-3 }, 'past its elastic limit'],
  ])('%s: that is said, and otherwise not', (_, changes, text) => {
    expect(all(changes)).toContain(text)
    expect(all({})).not.toContain(text)
  })

  test('margins', () => {
    expect(marginText(0)).toBe('nothing presses')
    expect(marginText(0.25)).toBe('room for 4 times as much')
    expect(marginText(3.456)).toBe('3.5 times the limit')
  })
})

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
    expect(words({ misalignment: 0 })[0].text).toContain(
      'runs flat. At mid width, where shear has its peak, it carries 0 %',
    )
    expect(words({ misalignment: 4e-3 })[0].text).toMatch(
      /^The span has troughs 4\d(\.\d)? mm apart, \d+ µm from crest/,
    )
    expect(words({ heat: 60, speed: 0, radius: 0.1 })[0]).toMatchObject({ severity: 'bad' })
    expect(words({ heat: 60, speed: 0, radius: 0.1 })[0].text).toContain('friction holds the fold')
    expect(words({ misalignment: 0.8e-3 })[0]).toMatchObject({ severity: 'warn' })
    expect(words({ misalignment: 0.8e-3 })[0].text).toMatch(/^Troughs may begin at mid width: .*\(161 %\).*\(72 %\)/)
    const { slackAt } = assess({ ...starting, length: 2, width: 0.1, tension: 30 })
    expect(words({ length: 2, width: 0.1, tension: 30, misalignment: 1.01 * slackAt })[0].text).toContain('hangs slack')
  })

  test('a fold that is not held: only where nothing is left of friction does the roller steer no more', () => {
    const floating = words({ heat: 60, speed: 20, radius: 0.1 })[0].text
    expect(floating).toContain('friction is too little to hold a fold together: 0.0 is left')
    expect(floating).toContain('steers and drives it no more')
    const slippery = words({ heat: 60, speed: 0, radius: 0.1, friction: 0.02 })[0].text
    expect(slippery).toContain('0.020 is left')
    expect(slippery).toContain('still steers and drives it')
    expect(slippery).not.toContain('no more')
  })

  test('the knobs that take troughs away, each by itself', () => {
    expect(all({ misalignment: 1.5e-3 })).toMatch(
      /align the roller to 0\.63 mm\/m or better; raise the tension to about \d+ N\/m \(\d+ % of the elastic limit\); lengthen the span to about \d+ mm\./,
    )
    expect(all({ misalignment: 0.008 })).toContain(
      'no tension within the elastic limit is enough; no span up to 5 times as long is enough',
    )
    expect(all({ misalignment: 0.5e-3 })).not.toContain('What would have it flat')
  })

  test('the page opens with troughs and with their cures', () => {
    expect(words({})[0].text).toMatch(/^The span has troughs/)
    expect(all({})).toContain('What would have it flat')
  })

  test('narrower under tension, and that neck-in is not modelled', () => {
    expect(all({})).toContain(
      'narrower by 0.0439 %, that is 0.176 mm. What such neck-in presses together is not modelled',
    )
  })

  test('the bend round a roller counts with the strain that runs in the film', () => {
    // 25 um round 1.3 mm: 0.96 %, and 0.116 % of tension; the limit is 1 %
    expect(all({ radius: 1.3e-3 })).toContain('past its elastic limit')
    expect(all({ radius: 1.3e-3, tension: 1 })).not.toContain('past its elastic limit')
  })

  test('with the misalignment of each limit and the shear it goes by', () => {
    const { peak, mean } = assess(starting).span.critical
    expect(all({})).toContain(
      `Troughs may begin at a misalignment of ${say(peak, 'slope')}, by the peak of shear at mid width, and cross the film at ${say(mean, 'slope')}, by mean shear; a fold at`,
    )
    expect(all({ heat: 90, radius: 0.1 })).toContain('the compression for a fold is there without any')
  })

  test('troughs beyond the slack edge are marked as the fold is', () => {
    expect(all({ length: 2, width: 0.1, tension: 30 })).toContain(
      'both lie beyond the slack edge and so beyond this model; a fold at',
    )
    const between = { length: 1.5, width: 0.2 }
    const { span, slackAt } = assess({ ...starting, ...between })
    expect([span.critical.peak < slackAt, slackAt < span.critical.mean]).toEqual([true, true])
    expect(all(between)).toContain(
      'by mean shear, which lies beyond the slack edge and so beyond this model; a fold at',
    )
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

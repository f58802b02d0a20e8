/** A trim's gains in other forms, beside its fields. */
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { otherForms } from '../../src/app/fields/forms'
import { withValue, type Json } from '../../src/app/state/document'

const splice = JSON.parse(
  readFileSync(join(import.meta.dirname, '../../scenarios/zero-speed-splice.json'), 'utf8'),
) as Json
const path = ['control', 0]
const trim = (more: { readonly [key: string]: Json }): Json => withValue(splice, path, more)
const tension = { control: 'tension trim', measures: 'idler 7', drives: 'rewind', tension: '50 N' }

test('a speed trim: integral time, repeats a minute, and percent of line speed for each percent of travel', () => {
  // 1 1/s over 0.25 1/s^2: 4 s; 260 mm of travel at 0.1 m/s: 1 x 0.26/0.1
  expect(otherForms(splice, path, 'metric')).toBe(
    'gain 1 1/s; integral time 4 s (15 repeats a minute); 2.6 % of line speed per % of travel at 6 m/min',
  )
})

test('without an integral part, with a derivative, in inch units', () => {
  const document = withValue(withValue(splice, [...path, 'integral'], '0 1/s^2'), [...path, 'program'], {
    sample: '20 ms',
    derivativeTime: '0.1 s',
  })
  expect(otherForms(document, path, 'inch')).toBe(
    'gain 1 1/s; no integral part; derivative time 0.1 s; 2.6 % of line speed per % of travel at 19.7 ft/min',
  )
})

test('a ratio trim needs no line speed; a torque trim is percent of tension on either side', () => {
  const ratio = { control: 'position trim', measures: 'infeed dancer', drives: 'unwind', kind: 'ratio', gain: '2 1/m' }
  expect(otherForms(trim(ratio), path, 'metric')).toBe(
    'gain 2 1/m; no integral part; 0.52 % of line speed per % of travel',
  )
  const torque = { ...tension, kind: 'torque', gain: '20 %', integral: '0.4 1/s' }
  expect(otherForms(trim(torque), path, 'metric')).toBe(
    'gain 20 %; integral time 0.5 s (120 repeats a minute); 0.2 % of tension per % of tension',
  )
})

test('a line that starts at rest is told at the speed that it is led to; at rest for good nothing relative is told', () => {
  const still = withValue(splice, ['speed', 'start'], '0 m/min')
  const led = withValue(still, ['stage'], [{ do: 'start', at: '1 s', to: '12 m/min' }])
  expect(otherForms(led, path, 'metric')).toContain('1.3 % of line speed per % of travel at 12 m/min')
  expect(otherForms(withValue(still, ['stage'], []), path, 'metric')).toBe(
    'gain 1 1/s; integral time 4 s (15 repeats a minute)',
  )
})

test('nothing for a force taper, for a trim that cannot be read, or for one without its dancer', () => {
  expect(otherForms(trim({ control: 'force taper' }), path, 'metric')).toBe('')
  expect(otherForms(withValue(splice, [...path, 'gain'], '1 kg'), path, 'metric')).toBe('')
  expect(otherForms(withValue(splice, [...path, 'measures'], 'nobody'), path, 'metric')).not.toContain('NaN')
  expect(otherForms(splice, ['control', 7], 'metric')).toBe('')
})

/** Cautions stand where nips, tension, heat and stored energy do, and leave the decision to codes and practice. */
import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { eventSchemas } from '../../src/line/stage'
import { wordsOf } from '../../src/units'
import { cautionAt } from '../../src/app/parts/cautions'
import type { Json } from '../../src/app/state/document'

const line: Json = {
  line: [
    { part: 'unwind', name: 'unwind' },
    { part: 'span' },
    { part: 'idler', name: 'idler 1' },
    { part: 'dancer', name: 'sprung' },
    { part: 'dancer', name: 'blown', cylinder: {} },
    { part: 'driven', name: 'nip', nip: true },
    { part: 'driven', name: 'roller' },
    { part: 'rewind', name: 'rewind', layOn: {} },
  ],
  control: [{ control: 'position trim' }, { control: 'tension trim' }],
}

test.each([
  [['line', 0], 'roll'],
  [['line', 3], 'Stored energy'],
  [['line', 4], 'bleed the air'],
  [['line', 5], 'Nips'],
  [['line', 7], 'Nips'],
  [['control', 0], 'Stored energy'],
  [['control', 1], 'under tension'],
  [['limits'], 'under tension'],
  [['speed'], 'starts'],
] as const)('at %j it speaks of %s', (path, words) => {
  expect(cautionAt(line, path)).toContain(words)
})

test('an idler, a span, a film and the run are left without', () => {
  for (const path of [['line', 1], ['line', 2], ['line', 6], ['films', 'A'], ['run']])
    expect(cautionAt(line, path)).toBe('')
})

test('every kind of event has its own, and each leaves the decision to codes and practice', () => {
  const acts = eventSchemas.map((schema) => wordsOf(schema.entries.do)[0] ?? '')
  const stage = acts.map((act): Json => ({ do: act }))
  const said = acts.map((_, index) => cautionAt({ stage }, ['stage', index]))
  for (const text of said) expect(text).toContain('Local codes and licensed practice decide.')
  expect(said[acts.indexOf('free strain')]).toContain('Heat')
  expect(said[acts.indexOf('dancer pressure')]).toContain('bleed')
})

test('each line of the gallery has a caution at its rolls and at its nips', () => {
  const folder = join(import.meta.dirname, '../../scenarios')
  for (const name of readdirSync(folder)) {
    const document = JSON.parse(readFileSync(join(folder, name), 'utf8')) as { line: { part: string; nip?: boolean }[] }
    document.line.forEach((part, place) => {
      const wanted = part.part === 'unwind' || part.part === 'rewind' || part.part === 'dancer' || part.nip === true
      expect(cautionAt(document as unknown as Json, ['line', place]) !== '', `${name} ${place}`).toBe(wanted)
    })
  }
})

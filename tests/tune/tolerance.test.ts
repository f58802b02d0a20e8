import { describe, expect, test } from 'vitest'
import type { Summary } from '../../src/run/summary'
import { readDocument } from '../../src/scenario/read'
import { cornersOf, worstOfCorners } from '../../src/tune/tolerance'
import { open } from '../run/lines'

const document = open('scenarios/start-stop.json')

describe('corners of a tolerance', () => {
  test('two ranges make four corners and the middle, each a scenario that can be read', () => {
    const found = cornersOf(document, { friction: [0.5, 1.5], mass: [0.9, 1.1] })
    if (!found.ok) throw new Error(found.say)
    expect(found.corners.map((c) => c.name)).toEqual([
      'as stated',
      'friction × 0.5, mass × 0.9',
      'friction × 0.5, mass × 1.1',
      'friction × 1.5, mass × 0.9',
      'friction × 1.5, mass × 1.1',
    ])
    for (const { document: corner } of found.corners) expect(readDocument(corner).ok).toBe(true)
  })

  test('factors reach dancers, rollers and films; a diameter is what it says; the document given stays', () => {
    const before = JSON.stringify(document)
    const found = cornersOf(document, {
      friction: [2, 2],
      modulus: [1.1, 1.1],
      mass: [0.5, 0.5],
      unwindDiameter: [0.1, 0.3],
    })
    if (!found.ok) throw new Error(found.say)
    expect(found.corners).toHaveLength(17)
    const [stated, changed] = [document, found.corners[1].document].map((d) => readDocument(d))
    if (!stated.ok || !changed.ok) throw new Error('unreadable')
    const [one, two] = [stated.scenario, changed.scenario]
    one.line.forEach((part, k) => {
      const other = two.line[k]
      if (part.part === 'dancer' && other.part === 'dancer') {
        expect(other.mass).toBeCloseTo(part.mass / 2, 12)
        expect(other.slidingFriction).toBeCloseTo(2 * part.slidingFriction, 12)
      }
      if (part.part === 'idler' && other.part === 'idler') expect(other.drag).toBeCloseTo(2 * part.drag, 12)
      if (other.part === 'unwind') expect(other.diameter).toBeCloseTo(0.1, 12)
    })
    expect(two.films['A'].modulus / one.films['A'].modulus).toBeCloseTo(1.1, 9)
    expect(JSON.stringify(document)).toBe(before)
  })

  test('ranges that are none are told by name', () => {
    expect(cornersOf(document, { mass: [1.1, 0.9] })).toMatchObject({ ok: false, field: 'mass' })
    expect(cornersOf(document, { modulus: [0, 1] })).toMatchObject({ ok: false, field: 'modulus' })
    expect(cornersOf(document, { friction: [0, Number.NaN] })).toMatchObject({ ok: false, field: 'friction' })
    expect(cornersOf(document, { unwindDiameter: [0.02, 0.3] })).toMatchObject({ ok: false })
    expect(cornersOf({}, { mass: [1, 1] }).ok).toBe(false)
    expect(cornersOf(document, {})).toMatchObject({ ok: true, corners: [{ name: 'as stated' }] })
  })

  test('the worst of each figure with the corner it comes from', () => {
    const summary = (max: number, min: number, stop: number) =>
      ({
        spans: [{ tension: { min, max }, limitShare: max / 100, slackSeconds: 0 }],
        dancers: [{ name: 'dancer', travelUsed: max / 200, stopSeconds: stop, ripple: 0 }],
      }) as unknown as Summary
    const worst = worstOfCorners([
      { name: 'mass × 2', summary: summary(80, 30, 0) },
      { name: 'as stated', summary: summary(60, 40, 0) },
      { name: 'mass × 1', summary: summary(70, 20, 0.4) },
    ])
    const of = (what: string) => worst.find((f) => f.what === what)
    expect(of('greatest tension')).toMatchObject({ value: 80, corner: 'mass × 2', stated: 60 })
    expect(of('least tension')).toMatchObject({ value: 20, corner: 'mass × 1', stated: 40 })
    expect(of('time on a stop, dancer')).toMatchObject({ value: 0.4, corner: 'mass × 1' })
    expect(worstOfCorners([])).toEqual([])
  })
})

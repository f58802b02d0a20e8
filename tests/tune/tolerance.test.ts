import { describe, expect, test } from 'vitest'
import type { Summary } from '../../src/run/summary'
import { readDocument } from '../../src/scenario/read'
import { askCorner } from '../../src/tune/ask-corner'
import { cornersOf, worstOfCorners, type Corner } from '../../src/tune/tolerance'
import { dancer, documentOf, nip, rewind, span, trim, unwind } from '../line/rig'
import { open } from '../run/lines'

const document = open('scenarios/start-stop.json')

/** Runs corners as the pool does. */
function ran(corners: readonly Corner[]): { name: string; summary: Summary }[] {
  const run = askCorner()
  return corners.map((corner) => {
    const steps = run(corner)
    let next = steps.next()
    while (next.done !== true) next = steps.next()
    if (!next.value.ok) throw new Error(next.value.say)
    return next.value
  })
}

describe('corners of a tolerance', () => {
  test('on the simulator: three times the friction of a dancer holds back three times the tension, F_c/2 in each strand', () => {
    const friction = 2
    const line = [
      ...[unwind(100, { drive: { kind: 'lag', lag: '100 ms' } }), span(0.5, 1e-3)],
      dancer('dancer', { damping: '5 N s/m', slidingFriction: `${friction} N` }),
      ...[span(0.5, 1e-3), nip('nip'), span(0.5, 1e-3), rewind()],
    ]
    const control = [trim('dancer', 'unwind', { gain: '1 1/s', integral: '0.2 1/s^2' })]
    const there = [{ do: 'set point', at: '0.5 s', dancer: 'dancer', to: '10 mm', in: '500 ms' }]
    const found = cornersOf(documentOf({ line, control, speed: 0.5, tick: 0.02, duration: 3, stage: there }), {
      friction: [1, 3],
    })
    if (!found.ok) throw new Error(found.say)
    const ended = ran(found.corners)
    const held = ended.map(({ summary: { spans } }) => {
      const { start, min, max } = spans[0].tension
      return Math.max(max - start, start - min)
    })
    expect(held[1]).toBeCloseTo(held[0], 9)
    // what the inertia and the damping of the dancer cost is the same in both; where it turns, its friction jumps and film rings
    const more = ((3 - 1) * friction) / 2
    expect((held[2] - held[1]) / more).toBeGreaterThan(0.95)
    expect((held[2] - held[1]) / more).toBeLessThan(1.1)
    const worst = worstOfCorners(ended)
    expect(worst.find(({ what }) => what === 'least tension')?.corner).toBe('friction × 3')
  })

  test('a corner that cannot be run is told by its name', () => {
    const steps = askCorner()({ name: 'mass × 2', document: { spanwright: 1 } })
    expect(steps.next()).toMatchObject({
      done: true,
      value: { ok: false, say: expect.stringMatching(/^mass × 2: ./) as string },
    })
  })

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

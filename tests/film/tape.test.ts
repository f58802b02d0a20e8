/** The tape against the plain meaning of it: a list of intervals. */
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { Material } from '../../src/film/film'
import { Tape } from '../../src/film/tape'

const material = (name: string, overlap = false): Material => ({
  ...{ name, parts: [{ film: name, share: 1 }], overlap, stiffness: 1, massPerLength: 1, lapThickness: 1, width: 1 },
  ...{ thickness: 1, elasticLimit: 1 },
})

const [a, b, c] = [material('A'), material('B'), material('C')]
const patch = material('patch', true)
const names = (tape: Tape) => tape.materials.map((m) => m.name)

describe('one film', () => {
  const tape = new Tape(a)
  test('lies everywhere and has no edge', () => {
    expect([-1e9, 0, 1e9].map((S) => tape.stretchAt(S))).toEqual([0, 0, 0])
    expect(tape.upperEdge(0)).toBe(Infinity)
    expect(tape.lowerEdge(0)).toBe(-Infinity)
  })
})

describe('a splice', () => {
  const tape = new Tape(a)
  const index = tape.paste(10, 0.06, patch, b)

  test('is the old film, the overlap, the new film, towards the unwind', () => {
    expect(names(tape)).toEqual(['A', 'patch', 'B'])
    expect(index).toBe(1)
    expect([tape.lowerEdge(1), tape.upperEdge(1)]).toEqual([10, 10.06])
    expect([tape.upperEdge(0), tape.lowerEdge(2), tape.upperEdge(2)]).toEqual([10, 10.06, Infinity])
  })

  test('an edge belongs to the stretch towards the rewind', () => {
    expect([9.9, 10, 10.01, 10.06, 10.07].map((S) => tape.stretchAt(S))).toEqual([0, 0, 1, 1, 2])
  })
})

test('an overlap of no length leaves the two films edge to edge', () => {
  const tape = new Tape(a)
  expect(tape.paste(3, 0, patch, b)).toBe(1)
  expect(names(tape)).toEqual(['A', 'B'])
  expect(tape.edges).toEqual([3])
})

test('what lay beyond a paste is cut off', () => {
  const tape = new Tape(a)
  tape.paste(10, 0.06, patch, b)
  expect(tape.paste(10.03, 0.06, patch, c)).toBe(2)
  expect(names(tape)).toEqual(['A', 'patch', 'patch', 'C'])
  expect(tape.edges).toEqual([10, 10.03, 10.09])
  expect(tape.paste(5, 0, patch, b)).toBe(1)
  expect(names(tape)).toEqual(['A', 'B'])
})

test('free strain is kept by what was there, and what is pasted on begins without', () => {
  const tape = new Tape(a)
  tape.freeStrain[0] = 1e-3
  tape.freeStrainRate[0] = 2e-3
  tape.paste(10, 0.06, patch, b)
  expect(tape.freeStrain).toEqual([1e-3, 0, 0])
  expect(tape.freeStrainRate).toEqual([2e-3, 0, 0])
  tape.freeStrain.fill(5)
  tape.paste(5, 0, patch, b)
  expect(tape.freeStrain).toEqual([5, 0])
})

test('after any pastes the edges rise and every point lies between those of its stretch', () => {
  const pastes = fc.array(fc.record({ step: fc.double({ min: 1e-3, max: 50, noNaN: true }), patch: fc.boolean() }), {
    maxLength: 8,
  })
  fc.assert(
    fc.property(pastes, fc.double({ min: -10, max: 500, noNaN: true }), (list, S) => {
      const tape = new Tape(a)
      let at = 0
      for (const { step, patch: overlapped } of list) {
        at += step
        tape.paste(at, overlapped ? step / 3 : 0, patch, b)
      }
      expect(tape.materials.length).toBe(tape.edges.length + 1)
      tape.edges.forEach((edge, k) => {
        if (k > 0) expect(edge).toBeGreaterThan(tape.edges[k - 1])
      })
      const k = tape.stretchAt(S)
      expect(S).toBeGreaterThan(tape.lowerEdge(k))
      expect(S).toBeLessThanOrEqual(tape.upperEdge(k))
    }),
    { seed: 1 },
  )
})

/**
 * What cannot be lost, on lines at random: film, and power with the film's energy differentiated from outside. Own derivation:
 * physics of the tape, exact loss q EA (e_in - e_out)^2/2 at every roller without slip.
 */
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { filmEnergy, powerBalance } from '../../src/line/power'
import { prepare } from '../../src/run/prepare'
import { Run } from '../../src/run/run'
import { randomDocument } from './random'
import { EA, finish, idler, nip, pointOf, powerGap, rewind, span, unwind, type Entry } from './rig'

/** Steps to the end and looks at every sample. Returns the outcome. */
function watched(run: Run, name: string): string {
  const { line } = run
  const start = line.balance(run.y)
  const gaps: { gap: number; passing: number }[] = [powerGap(run)]
  for (;;) {
    const outcome = run.step()
    const ran = Math.max(1, Math.abs(run.y[line.unwoundState]))
    expect(Math.abs(line.balance(run.y) - start)).toBeLessThan(1e-9 * ran)
    gaps.push(powerGap(run))
    for (const force of line.spans.force) expect(force).toBeGreaterThanOrEqual(0)
    line.rollers.mode.forEach((mode, i) => {
      // a drive that imposes the motion knows no sticking
      if (mode === 0 && line.rollers.imposed[i] === 0) expect(Math.abs(line.rollers.speed[i])).toBeLessThan(1e-12)
    })
    for (const { on, state, setup } of line.carriages) {
      expect(run.y[state]).toBeGreaterThanOrEqual(setup.lowerStop)
      expect(run.y[state]).toBeLessThanOrEqual(setup.upperStop)
      if (on !== 'free') expect(run.y[state + 1]).toBe(0)
    }
    if (outcome === undefined) continue
    // at rest next to nothing passes, and the difference of two energies has only rounding left
    const floor = 1e-3 * Math.max(...gaps.map((g) => g.passing))
    for (const { gap, passing } of gaps) expect(gap / Math.max(passing, floor), name).toBeLessThan(1e-6)
    return outcome.outcome
  }
}

/** Not as a shrinking property: a line that breaks off takes long, and any of them can be looked at as it is. */
const random = (numRuns: number, seed: number) => fc.sample(randomDocument, { numRuns, seed })

describe('random lines with ramps, stops and splices', () => {
  test('keep film to 1e-9 of what ran and power to 1e-6 of what passes, at every sample; tension is never below zero', () => {
    const ended: Record<string, number> = {}
    random(80, 20).forEach((document, n) => {
      const run = prepare(document)
      const outcome = run instanceof Run ? watched(run, `line ${n}`) : run.outcome
      ended[outcome] = (ended[outcome] ?? 0) + 1
    })
    // a line may have no state to start from; that is told, and seldom
    expect(ended['finished']).toBeGreaterThan(76)
    expect(Object.keys(ended).filter((outcome) => !['finished', 'failed'].includes(outcome))).toEqual([])
  })

  test('stand still when nothing is asked of them', () => {
    random(60, 1).forEach((document, n) => {
      const speed = { ...(document['speed'] as Entry), start: '0 m/s' }
      const run = prepare({ ...document, stage: [], speed, run: { for: '1 s', tick: '10 ms' } })
      if (!(run instanceof Run)) throw new Error(JSON.stringify(run))
      const start = run.y.slice()
      const scales = run.line.scales()
      finish(run)
      run.y.forEach((value, k) => expect(Math.abs(value - start[k]), `line ${n}`).toBeLessThan(1e-6 * scales[k]))
    })
  })
})

describe('the terms of the balance', () => {
  const line = [
    ...[unwind(80), span(1, 0.001), idler('idler', { drag: '0.05 N m', viscousDrag: '0.001 N m s' }), span(0.7, 0.001)],
    ...[nip('nip', { draw: '0.3 %' }), span(1.2), rewind({ draw: '0.1 %' })],
  ]

  test('film holds F^2/2 times its compliance', () => {
    const { line: built, y } = pointOf({ line })
    const { force } = built.spans
    const expected = [0, 1, 2].reduce((sum, j) => sum + (0.5 * force[j] ** 2 * y[j]) / EA, 0)
    expect(filmEnergy(built)).toBeCloseTo(expected, 12)
  })

  test('in steady motion nothing is stored but in the rolls, and what motors give is lost or taken along', () => {
    const { line: built, y } = pointOf({ line })
    const { stored, supplied, passing } = powerBalance(built, 0, y, 0)
    const { rollers } = built
    const last = rollers.count - 1
    const rolls = [0, last].reduce((sum, i) => sum + rollers.inertia[i] * rollers.speed[i] * rollers.acceleration[i], 0)
    expect(stored).toBeCloseTo(rolls, 10)
    expect(supplied).toBeCloseTo(stored, 6)
    expect(passing).toBeGreaterThan(100)
  })

  test('a missing watt shows', () => {
    const { line: built, y } = pointOf({ line })
    const { stored, supplied } = powerBalance(built, 0, y, 1)
    expect(Math.abs(stored - supplied)).toBeCloseTo(1, 6)
  })
})

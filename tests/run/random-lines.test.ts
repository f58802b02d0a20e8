/** What holds on any line with any stage: film and energy are conserved, film never pushes, and every run ends as a value. */
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { filmEnergy, powerBalance } from '../../src/line/power'
import { prepare } from '../../src/run/prepare'
import { Run } from '../../src/run/run'
import type { Summary } from '../../src/run/summary'
import { readDocument, readScenario } from '../../src/scenario/read'
import { writeScenario } from '../../src/scenario/write'
import { randomDocument } from './random-lines'

/** s: the energy is as good as a square of this along the rates */
const STEP = 4e-6
/** W: at rest nothing passes, and the rounding of the film's energy over the step is left */
const LEAST_POWER = 0.3

/** Power stored less power supplied, over all that passes; the film's energy is differentiated along the rates and in time. */
function imbalance({ line, y, time }: Run): number {
  const rates = line.rates(time, y).slice()
  const energyAfter = (s: number) => {
    line.rates(
      time + s,
      y.map((value, k) => value + s * rates[k]),
    )
    return filmEnergy(line)
  }
  const filmStored = (4 * energyAfter(STEP) - 3 * energyAfter(0) - energyAfter(2 * STEP)) / (2 * STEP)
  const { stored, supplied, passing } = powerBalance(line, time, y, filmStored)
  return Math.abs(stored - supplied) / Math.max(passing, LEAST_POWER)
}

/** Whether an edge of the tape lies so near a roller that the difference would take it across, or that it may rest there (1e-9 m). */
function atEdge({ line, y }: Run): boolean {
  const { spans, tape, rollers } = line
  if (tape.edges.length === 0) return false
  spans.locate(y, line.unwoundState)
  return tape.edges.some((edge) =>
    rollers.names.some((_, i) => Math.abs(spans.coordinate[i] - edge) < 2e-9 + 2 * STEP * Math.abs(rollers.flux[i])),
  )
}

/** Runs to the end; what must hold at every tick is asked at every tick. Returns how many samples the power was balanced at. */
function runThrough(run: Run): number {
  const start = run.line.balance(run.y)
  let balanced = 0
  for (;;) {
    const outcome = run.step()
    if (outcome?.outcome === 'failed') {
      expect(outcome.say).toMatch(/^[A-Z].*\.$/)
      return balanced
    }
    const { line, y } = run
    expect(Math.abs(line.balance(y) - start)).toBeLessThan(1e-9 * Math.max(1, Math.abs(y[line.unwoundState])))
    expect(Math.min(...line.spans.force)).toBeGreaterThanOrEqual(0)
    if (!atEdge(run)) {
      expect(imbalance(run), `at ${run.time} s`).toBeLessThan(1e-6)
      balanced++
    }
    if (outcome === undefined) continue
    expect(outcome.outcome).toBe('finished')
    if (outcome.outcome === 'finished') expectSound(outcome.summary)
    return balanced
  }
}

function expectSound({ spans, film }: Summary): void {
  for (const { tension } of spans) {
    expect(tension.min).toBeGreaterThanOrEqual(0)
    expect(tension.max).toBeGreaterThanOrEqual(tension.min)
  }
  expect(Math.abs(film.imbalance)).toBeLessThan(1e-9 * Math.max(1, Math.abs(film.unwound)))
}

test('any line with any stage is refused by field, or cannot start and says why, or runs to its end with nothing lost', () => {
  const seen = { refused: 0, unsteady: 0, ran: 0, balanced: 0 }
  const events = new Set<string>()
  fc.assert(
    fc.property(randomDocument, (document) => {
      const run = prepare(document)
      if (run instanceof Run) {
        seen.ran++
        seen.balanced += runThrough(run)
        for (const event of run.line.spec.stage) events.add(event.do)
      } else if (run.outcome === 'refused') {
        seen.refused++
        for (const { say } of run.problems) expect(say).toMatch(/: found .*, expected .*[.?]$/)
      } else {
        seen.unsteady++
        expect(run.say).toMatch(/^\S.*\.$/)
      }
    }),
    { numRuns: 150, seed: 7 },
  )
  expect(seen.ran).toBeGreaterThan(40)
  expect(seen.balanced).toBeGreaterThan(0.99 * 150 * seen.ran)
  expect(events.size).toBe(13)
})

test('what is read is written so that it reads the same', () => {
  fc.assert(
    fc.property(randomDocument, (document) => {
      const reading = readDocument(document)
      if (!reading.ok) return
      const again = readScenario(writeScenario(reading.document))
      expect(again.ok && again.document).toEqual(reading.document)
      expect(again.ok && again.scenario).toEqual(reading.scenario)
    }),
    { numRuns: 300, seed: 8 },
  )
})

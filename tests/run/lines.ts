/** Scenario files and runs for the tests of the run. */
import { readdirSync, readFileSync } from 'node:fs'
import { filmEnergy, powerBalance } from '../../src/line/power'
import type { Finished } from '../../src/run/outcome'
import { prepare } from '../../src/run/prepare'
import { Run } from '../../src/run/run'

export type Document = Record<string, unknown>

export const shipped = readdirSync('scenarios').filter((f) => f.endsWith('.json'))

export function open(path: string): Document {
  return JSON.parse(readFileSync(path, 'utf8')) as Document
}

/** A document with its run settings changed. */
export function withRun(document: Document, changes: Record<string, unknown>): Document {
  return { ...document, run: { ...(document['run'] as object), ...changes } }
}

export function ready(document: Document): Run {
  const run = prepare(document)
  if (!(run instanceof Run)) throw new Error(JSON.stringify(run))
  return run
}

/** Runs to the end; `sampled` is called after every tick. */
export function finish(run: Run, sampled: (run: Run) => void = () => undefined): Finished {
  for (;;) {
    const outcome = run.step()
    if (outcome !== undefined && outcome.outcome !== 'finished') throw new Error(JSON.stringify(outcome))
    sampled(run)
    if (outcome !== undefined) return outcome
  }
}

const STEP = 1e-5

/** |stored - supplied| and what passes, W, at the run's present instant; the film's energy is differentiated along the rates. */
export function powerGap(run: Run): { gap: number; passing: number } {
  const { line, y, time } = run
  const dy = line.rates(time, y).slice()
  const energyAt = (s: number) => {
    line.rates(
      time,
      y.map((value, k) => value + s * dy[k]),
    )
    return filmEnergy(line)
  }
  // one-sided: just after a paste the film behind the edge is another one
  const filmStored = (4 * energyAt(STEP) - 3 * energyAt(0) - energyAt(2 * STEP)) / (2 * STEP)
  const { stored, supplied, passing } = powerBalance(line, time, y, filmStored)
  return { gap: Math.abs(stored - supplied), passing }
}

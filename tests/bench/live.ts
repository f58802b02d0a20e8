/**
 * How soon a changed scenario shows: reading, building and running without a browser, with the program warmed up as it is when
 * controls are moved. The note tells the very first run too.
 */
import { readFileSync, readdirSync } from 'node:fs'
import { join } from 'node:path'
import { prepare } from '../../src/run/prepare'
import { usualPace } from '../../workers/slices'
import type { Row } from '../tools/table.mjs'

/** The benchmarks are started in the project's folder. */
const folder = join(process.cwd(), 'scenarios')

/** ms */
const budgets = { begun: 100, tenSeconds: 250, whole: 500 }

/** ms from the document in hand to: the first block could be sent, 10 s of line time, the end. */
interface Times {
  readonly begun: number
  readonly tenSeconds: number
  readonly whole: number
  readonly duration: number
  readonly rollers: number
}

export function bench(): Promise<Row[]> {
  const files = readdirSync(folder).filter((file) => file.endsWith('.json'))
  return Promise.resolve(files.flatMap(rowsFor))
}

function rowsFor(file: string): Row[] {
  const document = JSON.parse(readFileSync(join(folder, file), 'utf8')) as unknown
  const first = timesOf(document)
  // What else the machine does can only lengthen a time: the shortest of several counts, each figure for itself.
  const best = Array.from({ length: 10 }, () => timesOf(document)).reduce((a, b) => ({
    ...a,
    begun: Math.min(a.begun, b.begun),
    tenSeconds: Math.min(a.tenSeconds, b.tenSeconds),
    whole: Math.min(a.whole, b.whole),
  }))
  // The budget is for the first scenario a visitor sees; longer or larger ones have their own pace.
  const isUsual = best.duration <= 20 && best.rollers <= 16
  const name = file.replace('.json', '')
  return [
    row(`${name}: first samples`, budgets.begun, best.begun, first.begun),
    row(`${name}: 10 s of line time`, budgets.tenSeconds, best.tenSeconds, first.tenSeconds),
    row(`${name}: whole, ${best.duration} s`, isUsual ? budgets.whole : undefined, best.whole, first.whole),
  ]
}

function timesOf(document: unknown): Times {
  const began = performance.now()
  const since = () => performance.now() - began
  const run = prepare(document)
  if (!('step' in run)) throw new Error(`a shipped scenario is ${run.outcome}`)
  let [begun, tenSeconds] = [0, 0]
  const computing = performance.now()
  let outcome
  do {
    outcome = run.step()
    const enough =
      run.time >= usualPace.firstLineTime ||
      performance.now() - computing >= usualPace.firstSlice ||
      outcome !== undefined
    if (begun === 0 && enough) {
      run.takeBlock()
      begun = since()
    }
    if (tenSeconds === 0 && (run.time >= 10 || outcome !== undefined)) tenSeconds = since()
  } while (outcome === undefined)
  run.takeBlock()
  if (outcome.outcome !== 'finished') throw new Error(`a shipped scenario ended as ${outcome.outcome}`)
  return { begun, tenSeconds, whole: since(), duration: run.plan.duration, rollers: outcome.summary.rollers.length }
}

function row(what: string, budget: number | undefined, measured: number, first: number): Row {
  return {
    what,
    budget: budget === undefined ? '' : `${budget} ms`,
    measured: `${measured.toFixed(0)} ms`,
    within: budget === undefined ? null : measured <= budget,
    note: `very first run ${first.toFixed(0)} ms`,
  }
}

/** One hour of line time at a steady speed, all its samples kept as the page keeps them: memory, and no film lost. */
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import type { Block } from '../../src/run/record'
import { prepare } from '../../src/run/prepare'
import { setField } from '../../src/scenario/path'
import type { Row } from '../tools/table.mjs'

/** MB */
const mostMemory = 300
/** of the film that ran, and m for a line on which next to none does */
const mostImbalance = 1e-9

export function bench(): Promise<Row[]> {
  const began = performance.now()
  const run = prepare(hourOf('start-stop.json'))
  if (!('step' in run)) throw new Error(`the line is ${run.outcome}`)
  const blocks: Block[] = []
  let outcome
  do {
    for (let tick = 0; tick < 500 && outcome === undefined; tick++) outcome = run.step()
    const block = run.takeBlock()
    if (block) blocks.push(block)
  } while (outcome === undefined)
  if (outcome.outcome !== 'finished') throw new Error(`the hour ended as ${outcome.outcome}`)
  const { unwound, imbalance } = outcome.summary.film
  const memory = process.resourceUsage().maxRSS / 1e3
  const samples = blocks.reduce((sum, { data }) => sum + data.byteLength, 0) / 1e6
  const relative = Math.abs(imbalance) / unwound
  return Promise.resolve([
    {
      what: 'one simulated hour: memory',
      budget: `${mostMemory} MB`,
      measured: `${memory.toFixed(0)} MB`,
      within: memory <= mostMemory,
      note: `of which samples ${samples.toFixed(0)} MB; computed in ${((performance.now() - began) / 1e3).toFixed(0)} s`,
    },
    {
      what: 'one simulated hour: film imbalance',
      budget: `${mostImbalance} of what ran, or ${mostImbalance} m`,
      measured: relative.toExponential(1),
      within: relative <= mostImbalance || Math.abs(imbalance) <= mostImbalance,
      note: `${Math.abs(imbalance).toExponential(1)} m of ${unwound.toFixed(0)} m; ended at ${run.time.toFixed(0)} s`,
    },
  ])
}

/** A shipped line without its stage, with film enough for an hour. */
function hourOf(file: string): unknown {
  const stated = JSON.parse(readFileSync(join(process.cwd(), 'scenarios', file), 'utf8')) as object
  const fields = { 'run/for': '3600 s', 'line/unwind/diameter': '600 mm' }
  return Object.entries(fields).reduce<unknown>(
    (document, [path, text]) => {
      const setting = setField(document, path, text)
      if (!setting.ok) throw new Error(setting.problem.say)
      return setting.document
    },
    { ...stated, stage: [] },
  )
}

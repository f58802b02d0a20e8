/** Rolls for the tests. */
import { readFileSync } from 'node:fs'
import { rollInput, type RollInput } from '../../src/roll'
import type { Winding } from '../../src/roll/march'
import { wind, type Wound } from '../../src/roll/stress'
import { ringChannels, rollReport, wantsRun } from '../../src/roll/job'
import { readDocument } from '../../src/scenario/read'
import { finish, open, ready, type Document } from '../run/lines'

/** Linear roll of unit core radius and unit stress: g = sqrt(E_t/E_r), m = E_t/E_c + nu. */
export const linear = (g: number, m: number, out: number, woundOn: Winding['woundOn'] = () => 1): Winding => ({
  ...{ coreRadius: 1, outerRadius: out, along: g * g, through: [1, 0, 0, 0], core: m, woundOn },
})

/** Check 25's roll. */
export const soft: Winding = {
  ...{ coreRadius: 0.045, outerRadius: 0.135, along: 4.5e9, through: [400e3, 40, 0, 0] },
  ...{ core: 4.5 / 3 + 0.01, woundOn: () => 10e6 },
}

export function wound(winding: Winding, shells?: number): Wound {
  const result = wind(winding, shells)
  if ('softened' in result) throw new Error(`softened at ${result.softened}`)
  return result
}

/** By cubic in ln r through the four nodes about a radius. */
export function at({ radius, pressure }: { radius: Float64Array; pressure: Float64Array }, r: number): number {
  const last = radius.length - 1
  const above = radius.findIndex((one) => one > r)
  const first = Math.min(Math.max((above < 0 ? last : above) - 2, 0), last - 3)
  const [x, nodes] = [Math.log(r), [0, 1, 2, 3].map((j) => Math.log(radius[first + j]))]
  return nodes.reduce((sum, own, j) => {
    const weight = nodes.reduce((w, other, k) => (k === j ? w : (w * (x - other)) / (own - other)), 1)
    return sum + weight * pressure[first + j]
  }, 0)
}

export function inputOf(
  file: string,
  change: (document: Record<string, unknown>) => void = () => undefined,
): RollInput {
  const document = JSON.parse(readFileSync(`scenarios/${file}`, 'utf8')) as Record<string, unknown>
  change(document)
  const reading = readDocument(document)
  if (!reading.ok) throw new Error(reading.problems.map(({ say }) => say).join('\n'))
  return rollInput(reading.scenario, reading.document)
}

/** Radius of the roll and wound-on tension of a whole run, tick by tick. */
export function samplesOf(document: Document): { radius: number[]; tension: number[] } {
  const run = ready(document)
  const channels = ringChannels(run.plan.channels)
  if (channels === undefined) throw new Error('no channels')
  const [radius, tension]: [number[], number[]] = [[], []]
  finish(run, () => {
    const block = run.takeBlock()
    for (let i = 0; block !== undefined && i < block.count; i++) {
      radius.push(block.data[(channels.radius + 1) * block.count + i])
      tension.push(block.data[(channels.tension + 1) * block.count + i])
    }
  })
  return { radius, tension }
}

/** A shipped roll as it is computed: where the scenario asks for it, with the ring of its run. */
export function shippedRoll(file: string): RollInput {
  const document = open(`scenarios/${file}`)
  const report = rollReport({ document, run: wantsRun(document) ? samplesOf(document) : undefined })
  if ('outcome' in report) throw new Error('refused')
  return report.result.input
}

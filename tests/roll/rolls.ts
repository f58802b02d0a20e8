/** Rolls for the tests. */
import { readFileSync } from 'node:fs'
import { rollInput, type RollInput } from '../../src/roll'
import type { Winding } from '../../src/roll/march'
import { wind, type Wound } from '../../src/roll/stress'
import { readDocument } from '../../src/scenario/read'

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

/** By cubic through the four nodes about a radius. */
export function at({ radius, pressure }: { radius: Float64Array; pressure: Float64Array }, r: number): number {
  const last = radius.length - 1
  const x = (last * Math.log(r / radius[0])) / Math.log(radius[last] / radius[0])
  const first = Math.min(Math.max(Math.floor(x) - 1, 0), last - 3)
  return [0, 1, 2, 3].reduce((sum, j) => {
    const weight = [0, 1, 2, 3].reduce((w, k) => (k === j ? w : (w * (x - first - k)) / (j - k)), 1)
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

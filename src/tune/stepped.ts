/**
 * Step of a disturbance or a set point: what the linear line makes of it in time, to be laid beside a run of the simulator.
 *
 * Source       linear-run.ts
 */
import { closedLine } from './closed'
import { LinearRun } from './linear-run'
import type { Plant } from './plant'
import type { Trouble } from './setup'

interface Trace {
  readonly ok: true
  /** s */
  readonly times: Float64Array
  /** of each output asked for that there is, in their order, off its steady value, SI */
  readonly values: readonly Float64Array[]
}

/**
 * Outputs (by key) through a change of one disturbance (key of an input, or `set point/DRIVE` of the trim of that drive) by `size` (SI)
 * from time 0 on, within one tick (s).
 */
export function steppedLine(
  plant: Plant,
  disturbance: string,
  size: number,
  outputs: readonly string[],
  { tick, duration }: { tick: number; duration: number },
): Trace | Trouble {
  const closed = closedLine(plant)
  if (!closed.ok) return closed
  const seen = outputs.flatMap((key) => plant.outputs.find((output) => output.key === key) ?? [])
  const input = plant.inputs.find((i) => i.key === disturbance)
  const loop = closed.loops.findIndex((one) => `set point/${one.loop.correction.law.drives}` === disturbance)
  if (input === undefined && loop < 0) {
    return { ok: false, field: disturbance, say: `There is no disturbance "${disturbance}" on this line.` }
  }
  const run = new LinearRun(plant, closed, { inputs: input === undefined ? [] : [input], outputs: seen, tick })
  const count = Math.max(1, Math.round(duration / tick)) + 1
  const values = seen.map(() => new Float64Array(count))
  const wanted = closed.loops.map((_, k) => (input === undefined && k === loop ? size : 0))
  for (let k = 0; k < count; k++) {
    run.step([k === 0 ? 0 : size], [size], wanted)
    values.forEach((trace, j) => (trace[k] = run.seen[j]))
  }
  return { ok: true, times: Float64Array.from({ length: count }, (_, k) => k * tick), values }
}

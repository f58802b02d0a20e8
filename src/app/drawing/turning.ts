/** How far each wheel has turned since the start: surface speed over radius, summed up along the record. */
import type { Trace } from '../state/trace'
import type { Layout } from './layout'
import { samplesUntil } from '../charts/strokes'

export class Turning {
  readonly #angles: readonly (Float64Array | undefined)[]

  /** For the samples that the trace holds now. */
  constructor(
    private readonly trace: Trace,
    layout: Layout,
  ) {
    const number = new Map(trace.plan.channels.map(({ key }, index) => [key, index]))
    const column = (key: string) => {
      const index = number.get(key)
      return index === undefined ? undefined : trace.values(index)
    }
    this.#angles = layout.map(({ wheel, circle }) => {
      const speed = column(`speed/${wheel.name}`)
      const radius = column(`radius/${wheel.name}`)
      // Film on the left side of its roller turns it anticlockwise.
      return speed && summed(trace.time, speed, radius, circle.radius, circle.side)
    })
  }

  /** rad, anticlockwise, by wheel */
  at(time: number): number[] {
    const { trace } = this
    const sample = Math.max(0, samplesUntil(trace.time, trace.count, time + trace.plan.tick * 1e-6) - 1)
    return this.#angles.map((angles) => angles?.[Math.min(sample, angles.length - 1)] ?? 0)
  }
}

function summed(
  time: Float64Array,
  speed: Float64Array,
  radii: Float64Array | undefined,
  radius: number,
  sign: number,
): Float64Array {
  const angles = new Float64Array(speed.length)
  for (let i = 1; i < speed.length; i++) {
    const passed = (time[i] ?? 0) - (time[i - 1] ?? 0)
    const mean = ((speed[i] ?? 0) + (speed[i - 1] ?? 0)) / 2
    angles[i] = (angles[i - 1] ?? 0) + (sign * mean * passed) / (radii?.[i] ?? radius)
  }
  return angles
}

/** What the record says of each part and span at one instant. */
import { samplesUntil } from '../charts/strokes'
import type { Trace } from '../state/trace'
import type { DrawnLine } from './line'
import type { Pose } from './layout'

export interface SpanReading {
  readonly name: string
  /** N; not a number before the first sample */
  readonly tension: number
  /** Of the elastic limit of the film that lies in it. */
  readonly share: number
  readonly slack: boolean
  readonly least: number
  readonly most: number
}

export interface Readings {
  /** Of a channel by its key; undefined where there is none, or no sample yet. */
  readonly value: (key: string) => number | undefined
  readonly spans: readonly SpanReading[]
  /** The one strained most. */
  readonly worst: SpanReading | undefined
  readonly pose: Pose
}

export function readingsAt(trace: Trace | null, line: DrawnLine, time: number): Readings {
  const sample = trace && trace.count > 0 ? sampleAt(trace, time) : -1
  const numbers = new Map(trace?.plan.channels.map(({ key }, index) => [key, index]))
  const value = (key: string): number | undefined => {
    const index = numbers.get(key)
    return index === undefined || sample < 0 ? undefined : trace?.values(index)[sample]
  }
  const spans = (trace?.plan.spans ?? []).map(({ name, elasticTension, least, most }): SpanReading => {
    const tension = value(`tension/${name}`) ?? NaN
    const limit = value(`limit/${name}`) ?? elasticTension
    const share = Math.max(0, tension) / limit
    return { name, tension, share, slack: tension <= 0, least, most: (most / elasticTension) * limit }
  })
  const worst = spans
    .filter(({ share }) => Number.isFinite(share))
    .reduce<SpanReading | undefined>((most, span) => (most && most.share >= span.share ? most : span), undefined)
  return { value, spans, worst, pose: poseOf(line, value) }
}

const sampleAt = (trace: Trace, time: number): number =>
  Math.max(0, samplesUntil(trace.time, trace.count, time + trace.plan.tick * 1e-6) - 1)

function poseOf({ wheels }: DrawnLine, value: Readings['value']): Pose {
  const known = (group: 'dancer' | 'radius') =>
    wheels.flatMap(({ name }) => {
      const found = value(`${group}/${name}`)
      return found === undefined ? [] : [[name, found] as const]
    })
  return { positions: new Map(known('dancer')), radii: new Map(known('radius')) }
}

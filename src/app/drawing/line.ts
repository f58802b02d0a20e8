/** What of a scenario is drawn: circles in the order of the film's path, with the straights between them. */
import * as v from 'valibot'
import { scenarioSchema, type Scenario } from '../../scenario/schema'

/** 1: the film turns left round it, so that its centre lies on the film's left; -1: right. */
export type Side = 1 | -1

export type Stores = 'up' | 'down' | 'level'

export interface Wheel {
  readonly kind: 'unwind' | 'idler' | 'bar' | 'dancer' | 'driven' | 'rewind'
  readonly name: string
  /** m; of a roll: at the start */
  readonly radius: number
  /** m; a roll's core, 0 of all others */
  readonly core: number
  /** m; what the roll may be after a splice */
  readonly largest: number
  /** rad */
  readonly wrap: number
  /** A roll states none: it is laid where there is room. */
  readonly side: Side | undefined
  /** m, straight film after it; 0 after the last */
  readonly free: number
  /** Name of the dancer whose carriage it moves with; its own for a dancer. */
  readonly carriage: string | undefined
  readonly travel: Travel | undefined
  readonly nip: boolean
}

/** Of the carriage that a wheel moves with. */
export interface Travel {
  readonly lower: number
  readonly upper: number
  readonly setPoint: number
  readonly stores: Stores
  /** m; left out, the guide is straight */
  readonly arm: number | undefined
}

export interface DrawnLine {
  readonly wheels: readonly Wheel[]
}

type Part = Scenario['line'][number]
type Solid = Exclude<Part, { part: 'span' }>

/** Undefined when it is no scenario that could be run. */
export function lineOf(document: unknown): DrawnLine | undefined {
  const read = v.safeParse(scenarioSchema, document)
  if (!read.success) return undefined
  const { line, stage } = read.output
  const travels = travelsOf(line)
  const wheels = line.flatMap((part, at) => {
    if (part.part === 'span') return []
    const next = line[at + 1]
    return [wheelOf(part, next?.part === 'span' ? next.length : 0, travels, largestOf(part, stage))]
  })
  return wheels.length < 2 ? undefined : { wheels }
}

/** The line drawn before where the next one is drawn alike, as after most changes: laying one out is dear. */
export function keptLine(before: DrawnLine | undefined, next: DrawnLine | undefined): DrawnLine | undefined {
  return before && next && JSON.stringify(before) === JSON.stringify(next) ? before : next
}

function travelsOf(line: readonly Part[]): ReadonlyMap<string, Travel> {
  return new Map(
    line.flatMap((part) => {
      if (part.part !== 'dancer') return []
      const { name, lowerStop: lower, upperStop: upper, setPoint, stores, arm } = part
      return [[name, { lower, upper, setPoint, stores, arm }] as const]
    }),
  )
}

/** m, radius of the largest roll that a splice puts in its place */
function largestOf(part: Solid, stage: Scenario['stage']): number {
  if (part.part !== 'unwind') return part.diameter / 2
  const rolls = stage.flatMap((event) => ('roll' in event && event.roll ? [event.roll.diameter] : []))
  return Math.max(part.diameter, ...rolls) / 2
}

function wheelOf(part: Solid, free: number, travels: ReadonlyMap<string, Travel>, largest: number): Wheel {
  const isRoll = part.part === 'unwind' || part.part === 'rewind'
  const carriage = part.part === 'dancer' ? part.name : part.part === 'idler' ? part.rides : undefined
  return {
    kind: part.part,
    name: part.name,
    radius: part.diameter / 2,
    core: isRoll ? part.core / 2 : 0,
    largest,
    wrap: isRoll ? 0 : part.wrap,
    side: isRoll ? undefined : part.turn === 'left' ? 1 : -1,
    free,
    carriage,
    travel: carriage === undefined ? undefined : travels.get(carriage),
    nip: part.part === 'driven' && part.nip,
  }
}

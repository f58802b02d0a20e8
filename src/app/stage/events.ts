/**
 * The staged events of a document: read one by one, so that one that cannot be read does not take the others along, and
 * changed as text, so that nothing that a person wrote is lost.
 */
import * as v from 'valibot'
import { eventSchemas, isRamp, rampDuration, spliceTimes, type StageEvent } from '../../line/stage'
import { speedSchema, type SpeedSpec } from '../../line/speed'
import { formatQuantity, parseQuantity } from '../../units'
import { upFirst } from '../fields/words'
import { at, withValue, type Json } from '../state/document'

export interface Staged {
  /** Place in the document's list. */
  readonly index: number
  /** What is done, as the file calls it. */
  readonly act: string
  /** For people. */
  readonly title: string
  /** The part that it happens to, where the event names one. */
  readonly of: string
  /** s; undefined where the document's text is no time */
  readonly time: number | undefined
  /** s; 0 for what is over at once */
  readonly lasts: number
  /** m/s that a ramp leads to; undefined for all others */
  readonly to: number | undefined
}

export interface Edit {
  readonly document: Json
  /** Where the event stands now. */
  readonly index: number
  /** The former place of each event in the list. */
  readonly order: readonly number[]
}

const eventSchema = v.variant('do', eventSchemas)
const plainSpeed: SpeedSpec = { start: 0, acceleration: 0.2, rounding: 0.25, threadingTension: 0 }

export function eventsOf(document: Json): readonly Json[] {
  const stage = at(document, ['stage'])
  return Array.isArray(stage) ? (stage as readonly Json[]) : []
}

const wordOf = (event: Json, key: string): string => {
  const found = at(event, [key])
  return typeof found === 'string' ? found : ''
}

export function timeOf(event: Json): number | undefined {
  const parsed = parseQuantity(wordOf(event, 'at'), 'time')
  return parsed.ok ? parsed.value : undefined
}

export const actTitle = (act: string): string => (act === 'speed' ? 'Change of speed' : upFirst(act) || 'Event')

/** All events in the order of the file. */
export function stagedOf(document: Json): Staged[] {
  const stated = v.safeParse(speedSchema, at(document, ['speed']))
  const speed = stated.success ? stated.output : plainSpeed
  let now = speed.start
  return eventsOf(document).map((event, index) => {
    const parsed = v.safeParse(eventSchema, event)
    const read = parsed.success ? parsed.output : undefined
    const to = read && rampTarget(read)
    const lasts = read ? durationOf(read, now, speed) : 0
    now = to ?? now
    const act = wordOf(event, 'do')
    const of = wordOf(event, 'roller') || wordOf(event, 'dancer') || wordOf(event, 'film')
    return { index, act, title: actTitle(act), of, time: timeOf(event), lasts, to }
  })
}

function rampTarget(event: StageEvent): number | undefined {
  if (!isRamp(event)) return undefined
  return event.do === 'stop' ? 0 : event.to
}

/** How long an event lasts that finds the line at a speed (m/s), s. */
function durationOf(event: StageEvent, now: number, speed: SpeedSpec): number {
  if (isRamp(event)) return rampDuration({ in: event.in, to: rampTarget(event) ?? 0 }, now, speed)
  if (event.do === 'zero-speed splice') return spliceTimes(event).end
  return 'in' in event ? event.in : 0
}

/** A time as text in the unit of the text that it replaces. */
export function timeText(time: number, former: string): string {
  const parsed = parseQuantity(former, 'time')
  return formatQuantity(time, parsed.ok ? parsed.unit : 's', 9)
}

/** The document with its events in the order of their times; one without a readable time stays behind the one before it. */
export function sorted(document: Json, index = -1): Edit {
  const events = eventsOf(document)
  let last = -Infinity
  const keys = events.map((event) => (last = timeOf(event) ?? last))
  const order = events.map((_, k) => k).sort((a, b) => (keys[a] ?? 0) - (keys[b] ?? 0) || a - b)
  const isSame = order.every((k, place) => k === place)
  const stage = order.flatMap((k) => events[k] ?? [])
  return { document: isSame ? document : withValue(document, ['stage'], stage), index: order.indexOf(index), order }
}

/** An event put to another time, s. */
export function moved(document: Json, index: number, time: number): Edit {
  const former = wordOf(eventsOf(document)[index] ?? null, 'at')
  return sorted(withValue(document, ['stage', index, 'at'], timeText(time, former)), index)
}

/** One more event. */
export function added(document: Json, event: Json): Edit {
  const events = eventsOf(document)
  return sorted(withValue(document, ['stage'], [...events, event]), events.length)
}

export function removed(document: Json, index: number): Json {
  return withValue(
    document,
    ['stage'],
    eventsOf(document).filter((_, k) => k !== index),
  )
}

/** The same event once more at another time, s. */
export function copied(document: Json, index: number, time: number): Edit {
  const event = eventsOf(document)[index] ?? null
  return added(document, withValue(event, ['at'], timeText(time, wordOf(event, 'at'))))
}

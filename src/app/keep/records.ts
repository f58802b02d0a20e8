/** What is kept, and how a record that comes back is looked at before it is believed. */
import * as v from 'valibot'
import { guard } from '../../scenario/guard'
import { show } from '../../units'
import { mostPins, type PinRecord } from '../compare/pins.svelte'
import { differences, type Json } from '../state/document'
import { mostSteps, type History } from '../state/history'
import type { LookRecord, Reach } from '../state/look.svelte'
import type { InHand } from '../state/work.svelte'
import type { Kept } from './store'

/** Of the records. To change them: raise it, and bring older records up in `readWork` and `readOwn`. */
export const RECORD_VERSION = 1

/** Documents found to be sound: a history holds the scenario's own again and again. */
const sound = new WeakSet()

export function isJson(value: unknown): value is Json {
  if (typeof value !== 'object' || value === null) return false
  if (!sound.has(value) && guard(value).length === 0) sound.add(value)
  return sound.has(value)
}

const document = v.custom<Json>(isJson, 'a document that may be read')
const text = v.pipe(v.string(), v.maxLength(20_000))
const seconds = v.pipe(v.number(), v.finite())

const scenario = v.object({
  key: text,
  title: text,
  about: text,
  document,
  page: v.optional(text),
  part: v.optional(text),
})
const laid = v.object({ id: text, shift: seconds })
const inHand = v.object({ chosen: v.nullable(scenario), document, trend: v.optional(laid) })
const step = v.object({ words: text, key: text, at: v.number(), state: inHand })
const steps = v.pipe(v.array(step), v.maxLength(mostSteps))

const look = v.object({
  window: v.nullable(v.object({ min: seconds, max: seconds })),
  cursor: v.nullable(seconds),
  span: v.nullable(text),
  part: v.nullish(text),
  hidden: v.array(text),
  more: v.array(text),
  reach: v.custom<Reach>((value) => typeof value === 'object' && value !== null),
})

const common = { version: v.literal(RECORD_VERSION), id: text, at: v.number() }

const work = v.object({
  ...common,
  page: text,
  held: inHand,
  history: v.object({ past: steps, future: steps }),
  pins: v.pipe(v.array(v.object({ id: text, name: text, held: inHand })), v.maxLength(mostPins)),
  look,
  /** What is typed into a field and not yet applied, by the field's path. */
  entries: v.array(v.tuple([text, text])),
})

const own = v.object({ ...common, name: text, document, trend: v.optional(laid) })

/** One tab's work in hand. */
export interface WorkRecord extends Kept {
  readonly version: typeof RECORD_VERSION
  /** ms, when it was kept */
  readonly at: number
  readonly page: string
  readonly held: InHand
  readonly history: History<InHand>
  readonly pins: readonly PinRecord[]
  readonly look: LookRecord
  readonly entries: readonly (readonly [string, string])[]
}

const column = v.pipe(v.instance(Float64Array), v.maxLength(2_000_000))
const lane = v.object({ channel: text, title: text, values: column })
const trend = v.object({ ...common, name: text, time: column, lanes: v.pipe(v.array(lane), v.maxLength(100)) })

/** A recording: kept apart from the work that it lies over, which is written with every change. */
export type TrendRecord = Readonly<v.InferInput<typeof trend>>

/** A line of one's own, kept by name. */
export type OwnRecord = Readonly<v.InferInput<typeof own>>

export type RecordReading<T> =
  | { readonly kind: 'good'; readonly record: T }
  /** Written by a newer version of this page: not touched. */
  | { readonly kind: 'newer' }
  | { readonly kind: 'broken'; readonly why: string }

export const readWork = (raw: unknown): RecordReading<WorkRecord> => reading(raw, work)
export const readTrend = (raw: unknown): RecordReading<TrendRecord> => reading(raw, trend)
export const readOwn = (raw: unknown): RecordReading<OwnRecord> => reading(raw, own)

/** The record itself is handed on, not a copy: what its documents share stays shared. */
function reading<const S extends v.GenericSchema>(raw: unknown, schema: S): RecordReading<v.InferInput<S>> {
  const version = typeof raw === 'object' && raw !== null && 'version' in raw ? raw.version : undefined
  if (typeof version === 'number' && version > RECORD_VERSION) return { kind: 'newer' }
  if (v.is(schema, raw)) return { kind: 'good', record: raw }
  const [issue] = v.safeParse(schema, raw).issues ?? []
  const where = issue ? (v.getDotPath(issue) ?? 'the record') : 'the record'
  return { kind: 'broken', why: `${where}: found ${show(issue?.input)}` }
}

interface Touched extends Pick<WorkRecord, 'held' | 'history' | 'entries'> {
  readonly pins: readonly unknown[]
}

/** Nothing would be missed without it: a line as it came, nothing laid over it, nothing pinned, nothing to undo. */
export function isUntouched({ held, history, pins, entries }: Touched): boolean {
  const isOriginal = differences(held.chosen?.document, held.document).length === 0
  return isOriginal && !held.trend && history.past.length === 0 && pins.length === 0 && entries.length === 0
}

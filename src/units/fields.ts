/** The fields a file is made of: what each takes, what it means to people, and what is said when it does not fit. */
import * as v from 'valibot'
import { formatNumber, formatQuantity, toUnit } from './convert'
import { kinds, type Kind } from './kinds'
import { nearest } from './nearest'
import { parseQuantity } from './parse'
import { clip, listed, show, tell } from './wording'

export interface FieldNotes {
  readonly meaning: string
  /** usual range, as text with unit */
  readonly usual?: readonly [string, string]
  readonly why?: string
  /** the usual figures illustrate, they were not measured */
  readonly illustrative?: boolean
}

/** What a number may be; for a quantity in SI. */
export interface Bounds {
  readonly above?: number
  readonly least?: number
  readonly most?: number
}

export interface FieldInfo extends Bounds {
  readonly type: 'quantity' | 'number' | 'whole' | 'choice' | 'name' | 'text' | 'flag'
  /** only for a quantity */
  readonly kind?: Kind
  readonly notes: FieldNotes
  /** only for a choice */
  readonly options?: readonly string[]
  readonly optional: boolean
  /** what is taken when the field is left out, as it would be written */
  readonly fallback?: string | number | boolean
}

export type AnySchema = v.BaseSchema<unknown, unknown, v.BaseIssue<unknown>>

const field = (info: Omit<FieldInfo, 'optional'>) => ({ field: { ...info, optional: false } satisfies FieldInfo })

function boundsOf({ above, least, most }: Bounds): Bounds {
  return {
    ...(above === undefined ? {} : { above }),
    ...(least === undefined ? {} : { least }),
    ...(most === undefined ? {} : { most }),
  }
}

/** Undefined when the number lies within the bounds; else the bounds in words. */
function outside(value: number, bounds: Bounds, write: (bound: number) => string): string | undefined {
  const { above, least, most } = bounds
  const low = (above !== undefined && !(value > above)) || (least !== undefined && !(value >= least))
  if (!low && (most === undefined || value <= most)) return undefined
  const lower = above !== undefined ? `above ${write(above)}` : least !== undefined ? `of at least ${write(least)}` : ''
  const upper = most === undefined ? '' : `${lower === '' ? 'of ' : ''}at most ${write(most)}`
  return [lower, upper].filter((words) => words !== '').join(' and ')
}

/** A bound in the unit usually shown, or in SI where that would be a row of zeros. */
function boundText(bound: number, kind: Kind): string {
  const { metric, si } = kinds[kind]
  const size = Math.abs(toUnit(bound, metric, kind))
  const readable = si === '1' || size === 0 || (size >= 1e-3 && size < 1e4)
  return formatQuantity(bound, readable ? metric : si, 6, kind)
}

/** A quantity: text with a unit in the file, SI in the program. */
export function quantity(kind: Kind, notes: FieldNotes & Bounds) {
  const bounds = boundsOf(notes)
  const { name, example, metric } = kinds[kind]
  const write = (bound: number) => boundText(bound, kind)
  return v.pipe(
    v.string((issue) => {
      const hint =
        typeof issue.input === 'number' ? `write it in quotes, with its unit: "${issue.input} ${metric}"` : undefined
      return tell(`${name} with a unit, such as "${example}"`, hint)
    }),
    v.rawTransform<string, number>(({ dataset, addIssue, NEVER }) => {
      const parsed = parseQuantity(dataset.value, kind)
      if (!parsed.ok) {
        addIssue({ message: tell(parsed.expected, parsed.hint) })
        return NEVER
      }
      const limits = outside(parsed.value, bounds, write)
      if (limits === undefined) return parsed.value
      addIssue({ message: tell(`${name} ${limits}`) })
      return NEVER
    }),
    v.metadata(field({ type: 'quantity', kind, notes: notesOf(notes), ...bounds })),
  )
}

function notesOf({ meaning, usual, why, illustrative }: FieldNotes): FieldNotes {
  return {
    meaning,
    ...(usual === undefined ? {} : { usual }),
    ...(why === undefined ? {} : { why }),
    ...(illustrative === undefined ? {} : { illustrative }),
  }
}

const largestNumber = 1e15

function numberField(type: 'number' | 'whole', notes: FieldNotes & Bounds) {
  const bounds = { most: largestNumber, ...boundsOf(notes) }
  const name = type === 'whole' ? 'a whole number' : 'a number'
  return v.pipe(
    v.number((issue) => tell(name, typeof issue.input === 'string' ? 'write it without quotes or a unit' : undefined)),
    v.rawCheck<number>(({ dataset, addIssue }) => {
      if (!dataset.typed) return
      const value = dataset.value
      const limits = outside(value, bounds, formatNumber)
      if (!Number.isFinite(value) || Math.abs(value) > largestNumber) {
        addIssue({ message: tell(`${name} of ordinary size`, 'the number is too large') })
      } else if (limits !== undefined) addIssue({ message: tell(`${name} ${limits}`) })
      else if (type === 'whole' && !Number.isInteger(value)) addIssue({ message: tell(name) })
    }),
    v.metadata(field({ type, notes: notesOf(notes), ...boundsOf(notes) })),
  )
}

/** A number without a unit, such as Poisson's ratio. */
export const plainNumber = (notes: FieldNotes & Bounds) => numberField('number', notes)

/** A count. */
export const wholeNumber = (notes: FieldNotes & Bounds) => numberField('whole', notes)

/** One word out of a few. */
export function choice<const T extends readonly [string, ...string[]]>(options: T, notes: FieldNotes) {
  return v.pipe(
    v.picklist(options, (issue) => wordingOfChoice(issue.input, options)),
    v.metadata(field({ type: 'choice', options, notes: notesOf(notes) })),
  )
}

/** What to say to a word that is none of the options: all of them, and the nearest. */
export function wordingOfChoice(found: unknown, options: readonly string[]): string {
  const meant = typeof found === 'string' ? nearest(found, options) : undefined
  const expected = options.length === 1 ? listed(options) : `one of ${listed(options)}`
  return tell(expected, meant === undefined ? undefined : `did you mean "${meant}"?`)
}

/** Yes or no. */
export function flag(notes: FieldNotes) {
  const wording = (input: unknown) =>
    tell('true or false', typeof input === 'string' ? 'write it without quotes' : undefined)
  return v.pipe(
    v.boolean((issue) => wording(issue.input)),
    v.metadata(field({ type: 'flag', notes: notesOf(notes) })),
  )
}

/** Letters of any script, digits, space, - _ and point; one letter at least, so that no name is taken for a place in a list. */
const namePattern = /^(?=.*\p{L})[\p{L}\p{M}\p{N}_.-](?:[\p{L}\p{M}\p{N} _.-]{0,58}[\p{L}\p{M}\p{N}_.-])?$/u

/** Words that mean something to the language itself; as a key they would reach the prototype of every object. */
export const reservedWords: ReadonlySet<string> = new Set([
  ...Object.getOwnPropertyNames(Object.prototype),
  'prototype',
])

const nameWording = 'a name of 1 to 60 letters, digits, spaces, - _ or . with at least one letter'

/** The name of a part or a film. */
export function nameText(notes: FieldNotes) {
  return v.pipe(
    v.string(tell(nameWording)),
    v.rawCheck<string>(({ dataset, addIssue }) => {
      if (!dataset.typed) return
      if (reservedWords.has(dataset.value))
        addIssue({ message: tell('another name', `${show(dataset.value)} is a reserved word`) })
      else if (!namePattern.test(dataset.value)) addIssue({ message: tell(nameWording) })
    }),
    v.metadata(field({ type: 'name', notes: notesOf(notes) })),
  )
}

/** A title or a remark. */
export function freeText(notes: FieldNotes, most: number) {
  return v.pipe(
    v.string(tell('text in quotes')),
    v.maxLength(most, tell(`text of at most ${most} characters`)),
    v.metadata(field({ type: 'text', notes: notesOf(notes), most })),
  )
}

function isFieldInfo(found: unknown): found is FieldInfo {
  return typeof found === 'object' && found !== null && 'notes' in found && 'type' in found
}

function isWrapper(schema: AnySchema): schema is AnySchema & { wrapped: AnySchema; default: unknown } {
  return 'wrapped' in schema
}

/** What is known of a field, read through `optional`; undefined for a schema that is no single field. */
export function fieldInfo(schema: AnySchema): FieldInfo | undefined {
  if (isWrapper(schema)) {
    const inner = fieldInfo(schema.wrapped)
    const fallback: unknown = typeof schema.default === 'function' ? undefined : schema.default
    if (!inner) return undefined
    const written = typeof fallback === 'string' || typeof fallback === 'number' || typeof fallback === 'boolean'
    return { ...inner, optional: true, ...(written ? { fallback } : {}) }
  }
  const found: unknown = Object.entries(v.getMetadata(schema)).find(([key]) => key === 'field')?.[1]
  return isFieldInfo(found) ? found : undefined
}

/** How a field would be written, to show people what to put there. */
export function exampleOf(info: FieldInfo): string {
  if (info.type === 'quantity' && info.kind) return show(info.notes.usual?.[0] ?? kinds[info.kind].example)
  if (info.type === 'choice') return show(info.options?.[0] ?? '')
  if (info.type === 'flag') return 'true'
  if (info.type === 'number' || info.type === 'whole') return clip(info.notes.usual?.[0] ?? '1')
  return info.type === 'name' ? '"idler 1"' : '"…"'
}

/** What is wrong with a file, for people: which field, what was found, what would be right. */
import type { BaseIssue } from 'valibot'
import { exampleOf, fieldInfo, wordingOfChoice, type AnySchema } from './fields'
import { kinds } from './kinds'
import { bare, isObjectSchema, isPlainObject, isVariantSchema, keyAdvice, own } from './schema-walk'
import { schemaAt, settled, variantWords } from './schema-walk'
import { clip, firstLetterUp, listed, show, untell, type Wording } from './wording'

export interface Problem {
  /** for people: `line/2 idler 1/diameter` */
  readonly field: string
  /** for programs: `line/2/diameter` */
  readonly path: string
  readonly found: string
  readonly expected: string
  /** the whole sentence */
  readonly say: string
}

export type Place = readonly (string | number)[]

/** The place with what people call the things on the way: a part by its place in the line and its name. */
export function fieldName(place: Place, document: unknown): string {
  let value = document
  const words = place.map((key) => {
    value = own(value, key)
    const called = typeof key === 'number' ? calling(value) : undefined
    return called === undefined ? clip(String(key)) : `${key} ${clip(called)}`
  })
  return words.length === 0 ? 'scenario' : words.join('/')
}

function calling(item: unknown): string | undefined {
  return ['name', 'part', 'do', 'control'].map((key) => own(item, key)).find((word) => typeof word === 'string')
}

/** A problem at a place in a document; `found` and `expected` are worded to stand in one sentence. */
export function problemAt(place: Place, document: unknown, found: string, expected: string, hint?: string): Problem {
  const field = fieldName(place, document)
  const advice = hint === undefined ? '' : ` ${firstLetterUp(hint)}${/[.?!]$/.test(hint) ? '' : '.'}`
  return {
    field,
    path: place.map((key) => clip(String(key))).join('/'),
    found,
    expected,
    say: `${field}: found ${found}, expected ${expected}.${advice}`,
  }
}

/** Makes problems of valibot's issues; with the schema at hand it also names missing and unknown keys well. */
export function problemsOf(issues: readonly BaseIssue<unknown>[], input: unknown, schema?: AnySchema): Problem[] {
  return issues.flatMap((issue) => problemsOfIssue(issue, input, schema))
}

function problemsOfIssue(issue: BaseIssue<unknown>, input: unknown, schema: AnySchema | undefined): Problem[] {
  const place = (issue.path ?? []).map((item) => (typeof item.key === 'number' ? item.key : String(item.key)))
  const last = issue.path?.at(-1)
  const holder = settled(schemaAt(schema, input, place.slice(0, -1)), last?.input)
  if (last && issue.type === 'strict_object' && last.input !== null && issue.expected === 'never') {
    return unknownKeys(place.slice(0, -1), last.input, input, holder)
  }
  if (issue.type === 'strict_object' && last?.origin === 'key') return [missingKey(place, input, holder)]
  if (issue.type === 'variant') return [wrongVariant(issue, place, input, schema)]
  const { expected, hint } = issue.kind === 'schema' ? wordingOfSchema(issue) : untell(issue.message)
  return [
    problemAt(place, input, last?.origin === 'key' ? `the name ${show(last.key)}` : show(issue.input), expected, hint),
  ]
}

/** valibot stops at the first unknown key; people want to hear of all. */
function unknownKeys(place: Place, holderValue: unknown, input: unknown, holder: AnySchema | undefined): Problem[] {
  const known = holder && isObjectSchema(holder) ? Object.keys(holder.entries) : []
  const keys = isPlainObject(holderValue) ? Object.keys(holderValue) : []
  const free = known.filter((word) => !keys.includes(word))
  const offered = free.length > 0 ? free : known
  return keys
    .filter((key) => !known.includes(key))
    .map((key) => problemAt([...place, key], input, `the unknown key ${show(key)}`, keyAdvice(key, offered)))
}

function missingKey(place: Place, input: unknown, holder: AnySchema | undefined): Problem {
  const key = String(place.at(-1))
  const entry = holder && isObjectSchema(holder) ? holder.entries[key] : undefined
  const info = entry && fieldInfo(entry)
  if (info) {
    const { expected } = info.kind ? { expected: kinds[info.kind].name } : { expected: `"${key}"` }
    return problemAt(place, input, 'nothing', expected, `write "${key}": ${exampleOf(info)} (${info.notes.meaning})`)
  }
  const plain = entry && bare(entry)
  if (plain && 'literal' in plain)
    return problemAt(place, input, 'nothing', `"${key}": ${JSON.stringify(plain.literal)}`)
  return problemAt(place, input, 'nothing', `"${key}" with ${plain ? containerWords(plain) : 'a value'}`)
}

function containerWords(schema: AnySchema): string {
  if (schema.type === 'array') return 'a list, [ ... ]'
  if (!isVariantSchema(schema)) return 'an object, { ... }'
  return `an object, { "${schema.key}": ${variantWords(schema, schema.key)
    .slice(0, 3)
    .map((word) => `"${word}"`)
    .join(' or ')}, ... }`
}

function wrongVariant(issue: BaseIssue<unknown>, place: Place, input: unknown, schema: AnySchema | undefined): Problem {
  if (issue.expected === 'Object') {
    const stated = schemaAt(schema, input, place)
    return problemAt(place, input, show(issue.input), stated ? containerWords(bare(stated)) : 'an object, { ... }')
  }
  const key = String(place.at(-1))
  const stated = schemaAt(schema, input, place.slice(0, -1))
  const variant = stated && bare(stated)
  const words =
    variant && isVariantSchema(variant) ? variantWords(variant, key, place.slice(0, -1).reduce(own, input)) : []
  if (issue.input === undefined) return problemAt(place, input, 'nothing', `"${key}" with one of ${listed(words)}`)
  const { expected, hint } = untell(wordingOfChoice(issue.input, words))
  return problemAt(place, input, show(issue.input), expected, hint)
}

const plainWords: Readonly<Record<string, string>> = {
  strict_object: 'an object, { ... }',
  object: 'an object, { ... }',
  record: 'an object, { ... }',
  array: 'a list, [ ... ]',
  boolean: 'true or false',
}

/** The message of our own schemas, or what to say for one of valibot's that was left without. */
function wordingOfSchema(issue: BaseIssue<unknown>): Wording {
  if (!issue.message.startsWith('Invalid ')) return untell(issue.message)
  return { expected: plainWords[issue.type] ?? issue.expected ?? 'another value' }
}

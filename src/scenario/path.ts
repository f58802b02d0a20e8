/**
 * Fields by path, as they are named on the command line and in sweeps: `line/infeed dancer/mass`, `films/A/thickness`,
 * `control/0/gain`. In a list a part is named by its name or its place in the list, or by both as messages do: `2 idler 1`.
 */
import { bare, fieldInfo, isObjectSchema, isPlainObject, isVariantSchema, keyAdvice, nearest, own } from '../units'
import { parseNumber, problemAt, schemaAt, settled, show, type AnySchema, type Place, type Problem } from '../units'
import { scenarioSchema } from './schema'

export interface Field {
  readonly place: Place
  /** as it stands in the document; the default where nothing is written; undefined when there is none either */
  readonly value: unknown
  readonly schema: AnySchema
}

export type Finding = { readonly ok: true; readonly field: Field } | { readonly ok: false; readonly problem: Problem }

export type Setting =
  { readonly ok: true; readonly document: unknown } | { readonly ok: false; readonly problem: Problem }

/** The single field that a path names, in a document that may have been read. */
export function getField(document: unknown, path: string): Finding {
  const place: (string | number)[] = []
  let value = document
  for (const word of path.split('/')) {
    const key = keyFor(word, value, schemaAt(scenarioSchema, document, place))
    if (typeof key === 'object') return refuse([...place, word], document, key)
    place.push(key)
    value = own(value, key)
  }
  const schema = schemaAt(scenarioSchema, document, place)
  if (!schema || isContainer(schema)) {
    return refuse(place, document, { found: 'a whole group of fields', expected: 'the path of a single field' })
  }
  return { ok: true, field: { place, value: value ?? fieldInfo(schema)?.fallback, schema } }
}

/**
 * The document with another text in one field; numbers and yes or no are made of the text where the field takes them. The
 * document given is not changed, and whether the whole still makes sense is for the reading to say.
 */
export function setField(document: unknown, path: string, text: string): Setting {
  const finding = getField(document, path)
  if (!finding.ok) return finding
  const { place, schema } = finding.field
  const value = valueOf(text, schema)
  return { ok: true, document: withValue(document, place, value) }
}

/** The document with another value at a place. */
export function withValue(document: unknown, [key, ...rest]: Place, value: unknown): unknown {
  if (key === undefined) return value
  const inner = withValue(own(document, key), rest, value)
  if (Array.isArray(document)) return document.map((item: unknown, index) => (index === key ? inner : item))
  return { ...(isPlainObject(document) ? document : {}), [key]: inner }
}

interface Miss {
  readonly found: string
  readonly expected: string
  readonly hint?: string
}

function refuse(place: Place, document: unknown, { found, expected, hint }: Miss): Finding & { ok: false } {
  return { ok: false, problem: problemAt(place, document, found, expected, hint) }
}

/** The key that a word of a path stands for, in a list the place of the item. */
function keyFor(word: string, holder: unknown, schema: AnySchema | undefined): string | number | Miss {
  const plain = settled(schema, holder)
  if (Array.isArray(holder)) return indexFor(word, holder)
  const stated = isPlainObject(holder) ? Object.keys(holder) : []
  const known = plain && isObjectSchema(plain) ? Object.keys(plain.entries) : plain?.type === 'record' ? stated : []
  if (known.includes(word)) return word
  if (known.length === 0) return { found: show(word), expected: 'the path to end before it' }
  return { found: `the unknown key ${show(word)}`, expected: keyAdvice(word, known) }
}

function indexFor(word: string, items: readonly unknown[]): number | Miss {
  const names = items.map((item) => own(item, 'name'))
  const byName = names.indexOf(word)
  if (byName >= 0) return byName
  const [, digits, called] = /^(\d{1,6})(?: (.*))?$/.exec(word) ?? []
  const index = Number(digits ?? Number.NaN)
  if (index < items.length && (called === undefined || called === names[index])) return index
  const known = names.filter((name) => typeof name === 'string')
  const near = nearest(word, known)
  const expected = known.length > 0 ? 'the name of a part, or its place in the list' : 'a place in the list'
  const range = items.length === 0 ? 'the list is empty' : `places run from 0 to ${items.length - 1}`
  return { found: show(word), expected, hint: near === undefined ? range : `did you mean "${near}"?` }
}

function isContainer(schema: AnySchema): boolean {
  const plain = bare(schema)
  return isObjectSchema(plain) || isVariantSchema(plain) || ['array', 'record'].includes(plain.type)
}

/** A text that does not fit stays text: reading the document will then say what the field takes. */
function valueOf(text: string, schema: AnySchema): unknown {
  const { type } = bare(schema)
  if (type === 'boolean' && (text === 'true' || text === 'false')) return text === 'true'
  return type === 'number' ? (parseNumber(text) ?? text) : text
}

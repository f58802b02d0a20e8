/** Finding the schema that stands behind a place in a file. */
import { nearest } from './nearest'
import type { AnySchema } from './fields'

interface ObjectLike extends AnySchema {
  readonly entries: Readonly<Record<string, AnySchema>>
}
interface VariantLike extends AnySchema {
  readonly key: string
  readonly options: readonly AnySchema[]
}

const isSchema = (found: unknown): found is AnySchema =>
  typeof found === 'object' && found !== null && 'kind' in found && found.kind === 'schema'

export const isObjectSchema = (schema: AnySchema): schema is ObjectLike => 'entries' in schema

export const isVariantSchema = (schema: AnySchema): schema is VariantLike =>
  schema.type === 'variant' && 'key' in schema && 'options' in schema

/** The schema inside `optional` and the like. */
export function bare(schema: AnySchema): AnySchema {
  return 'wrapped' in schema && isSchema(schema.wrapped) ? bare(schema.wrapped) : schema
}

export function isPlainObject(found: unknown): found is Readonly<Record<string, unknown>> {
  return typeof found === 'object' && found !== null && !Array.isArray(found)
}

/** The value at one key, never one that is inherited. */
export function own(holder: unknown, key: string | number): unknown {
  if (typeof holder !== 'object' || holder === null || !Object.hasOwn(holder, key)) return undefined
  return (holder as Readonly<Record<string | number, unknown>>)[key]
}

/** The words a discriminating key can have. */
export function wordsOf(schema: AnySchema): readonly string[] {
  const plain = bare(schema)
  if ('literal' in plain) return [String(plain.literal)]
  return 'options' in plain && Array.isArray(plain.options) ? plain.options.map(String) : []
}

/**
 * All words that the key of a variant can have, in the order in which the variants are listed; of those variants only that
 * `value` may still belong to by its other discriminating words, where there are such.
 */
export function variantWords(schema: VariantLike, key: string, value?: unknown): readonly string[] {
  const objects = leaves(schema)
  const near = objects.filter((option) => agrees(option, key, value))
  const words = (near.length > 0 ? near : objects).flatMap((option) => wordsAt(option, key))
  return [...new Set(words)]
}

function leaves(schema: VariantLike): ObjectLike[] {
  return schema.options.flatMap((option) => {
    if (isVariantSchema(option)) return leaves(option)
    return isObjectSchema(option) ? [option] : []
  })
}

const wordsAt = (option: ObjectLike, key: string) => {
  const entry = option.entries[key]
  return entry ? wordsOf(entry) : []
}

/** Whether every literal of the object but that at `key` stands in the value too. */
function agrees(option: ObjectLike, key: string, value: unknown): boolean {
  return Object.entries(option.entries).every(([other, entry]) => {
    return other === key || entry.type !== 'literal' || wordsOf(entry).includes(String(own(value, other)))
  })
}

/** The variant that the value belongs to. */
export function variantOf(schema: VariantLike, value: unknown): AnySchema | undefined {
  const word = own(value, schema.key)
  for (const option of schema.options) {
    const entry = isObjectSchema(option) ? option.entries[schema.key] : undefined
    const fits = entry !== undefined && typeof word === 'string' && wordsOf(entry).includes(word)
    if (isVariantSchema(option)) {
      const inner = variantOf(option, value)
      if (inner) return inner
    } else if (fits) return option
  }
  return undefined
}

/** The schema for what an object or list holds at a key, as far as it is known. */
export function childOf(schema: AnySchema, key: string | number): AnySchema | undefined {
  if (isObjectSchema(schema)) return Object.hasOwn(schema.entries, key) ? schema.entries[String(key)] : undefined
  if ('item' in schema && isSchema(schema.item)) return schema.item
  if (schema.type === 'record' && 'value' in schema && isSchema(schema.value)) return schema.value
  return undefined
}

/** The schema that holds for a value: `optional` taken off, and the variant chosen. */
export function settled(schema: AnySchema | undefined, value: unknown): AnySchema | undefined {
  if (!schema) return undefined
  const plain = bare(schema)
  return isVariantSchema(plain) ? variantOf(plain, value) : plain
}

/** The schema as it is stated at a path into a document (still with its `optional`); undefined where there is none. */
export function schemaAt(
  root: AnySchema | undefined,
  document: unknown,
  path: readonly (string | number)[],
): AnySchema | undefined {
  let schema = root
  let value = document
  for (const key of path) {
    const holder = settled(schema, value)
    if (!holder) return undefined
    schema = childOf(holder, key)
    value = own(value, key)
  }
  return schema
}

/** What to say to a key that is not known: the nearest known one, or all of them. */
export function keyAdvice(key: string, known: readonly string[]): string {
  const meant = nearest(key, known)
  if (meant !== undefined) return `"${meant}"`
  return known.length === 0 ? 'a known key' : `one of the keys ${known.map((word) => `"${word}"`).join(', ')}`
}

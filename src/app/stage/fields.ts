/** The fields of one event, or of the run's speed and length, made from their schemas: for a form. */
import {
  bare,
  childOf,
  fieldInfo,
  isObjectSchema,
  schemaAt,
  settled,
  type AnySchema,
  type FieldInfo,
} from '../../units'
import { scenarioSchema } from '../../scenario/schema'
import type { Field } from '../fields/catalogue'
import { fieldLabel, upFirst } from '../fields/words'
import { at, pathText, type Json, type Path } from '../state/document'
import { namesFor } from './names'

export interface FieldSet {
  /** Empty for the event's own. */
  readonly title: string
  readonly fields: readonly Field[]
}

/** All fields of what stands at a path, those that are left out too; what it holds inside follows as sets of its own. */
export function fieldSets(document: Json, path: Path): FieldSet[] {
  const schema = settled(schemaAt(scenarioSchema, document, path), at(document, path))
  if (!schema || !isObjectSchema(schema)) return []
  const own = Object.keys(schema.entries).flatMap((key) => fieldAt(document, [...path, key]))
  const inside = Object.keys(schema.entries).flatMap((key) => {
    const child = childOf(schema, key)
    if (!child || !isObjectSchema(bare(child))) return []
    return fieldSets(document, [...path, key]).map((set) => ({ ...set, title: titleOf(key) }))
  })
  return [{ title: '', fields: own }, ...inside]
}

const titleOf = (key: string) => (key === 'roll' ? 'New roll' : upFirst(key))

/** One field, with empty text where it is left out and nothing stands for it. */
export function fieldAt(document: Json, path: Path): Field[] {
  const schema = schemaAt(scenarioSchema, document, path)
  const info = schema && fieldInfo(schema)
  if (!schema || !info) return []
  const stated = at(document, path)
  if (info.type === 'flag') return [flagOf(path, info, schema, stated)]
  const value = stated ?? info.fallback ?? ''
  if (typeof value !== 'string' && typeof value !== 'number') return []
  const isDefault = stated === undefined
  const label = upFirst(fieldLabel(path))
  return [{ path, key: pathText(path), label, info: chosenFrom(info, document, path, value), schema, value, isDefault }]
}

const yes = 'yes'
const no = 'no'

/** Yes or no as one of two words. */
function flagOf(path: Path, info: FieldInfo, schema: AnySchema, stated: Json | undefined): Field {
  const value = (stated ?? info.fallback) === true ? yes : no
  const asChoice: FieldInfo = { ...info, type: 'choice', options: [yes, no] }
  const label = upFirst(fieldLabel(path))
  return { path, key: pathText(path), label, info: asChoice, schema, value, isDefault: stated === undefined }
}

/** What a choice is written as: yes and no are true and false, and no word at all leaves the field out. */
export function written({ schema }: Field, word: string): Json | undefined {
  if (fieldInfo(schema)?.type === 'flag') return word === yes
  return word === '' ? undefined : word
}

/** A name is chosen from those that there are; one that there is not stays to be seen. */
function chosenFrom(info: FieldInfo, document: Json, path: Path, value: string | number): FieldInfo {
  if (info.type !== 'name') return info
  const names = info.optional ? ['', ...namesFor(document, path)] : namesFor(document, path)
  return { ...info, type: 'choice', options: names.includes(String(value)) ? names : [String(value), ...names] }
}

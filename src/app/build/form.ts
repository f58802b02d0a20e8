/** All that can be stated of one thing in a scenario, made from its schema: fields by group, and what may be added to it. */
import { scenarioSchema } from '../../scenario/schema'
import { bare, childOf, isObjectSchema, isVariantSchema, schemaAt, settled, variantWords } from '../../units'
import type { AnySchema } from '../../units'
import type { Field } from '../fields/catalogue'
import { fieldLabel, upFirst } from '../fields/words'
import { fieldAt } from '../stage/fields'
import { at, pathText, type Json, type Path } from '../state/document'
import { wordAt } from './line'
import { startingOf } from './starting'

/** One of several kinds that a group can be of, such as those of a drive. */
interface Kinds {
  readonly word: string
  readonly options: readonly string[]
}

export interface FormGroup {
  readonly key: string
  /** empty for the thing's own fields */
  readonly title: string
  readonly path: Path
  readonly fields: readonly Field[]
  readonly kinds: Kinds | undefined
  /** may be left out as a whole */
  readonly optional: boolean
}

/** Something that is not stated yet, with what it begins with. */
export interface Addition {
  readonly title: string
  readonly path: Path
  readonly value: Json
}

interface Form {
  readonly groups: readonly FormGroup[]
  readonly additions: readonly Addition[]
}

const titles: Readonly<Record<string, string>> = {
  inRoll: 'In the roll',
  layOn: 'Lay-on roller',
  coreTube: 'Core',
  later: 'After winding',
  index: 'Index feed',
  program: 'Controller program',
  stack: 'Stack modulus',
}

const titleOf = (key: string) => titles[key] ?? upFirst(fieldLabel(['', 0, key]))

/** Of the whole it is told elsewhere: a name that others refer to cannot be changed by itself. */
const isOwnName = (path: Path) => path[0] === 'line' && path.length === 3 && path[2] === 'name'

export function formAt(document: Json, path: Path): Form {
  const schema = settled(schemaAt(scenarioSchema, document, path), at(document, path))
  if (!schema || !isObjectSchema(schema)) return { groups: [], additions: [] }
  const own: FormGroup = {
    ...{ key: pathText(path), title: '', path, kinds: undefined, optional: false },
    fields: Object.keys(schema.entries).flatMap((key) =>
      isOwnName([...path, key]) ? [] : fieldAt(document, [...path, key]),
    ),
  }
  const inside = Object.keys(schema.entries).map((key) => groupAt(document, schema, path, key))
  return {
    groups: [own, ...inside.flatMap(({ groups }) => groups)],
    additions: inside.flatMap(({ additions }) => additions),
  }
}

/** A group inside a thing: its fields where it is stated, else the offer to state it. */
function groupAt(document: Json, holder: AnySchema, base: Path, key: string): Form {
  const none: Form = { groups: [], additions: [] }
  const child = childOf(holder, key)
  const plain = child && bare(child)
  if (!child || !plain || (!isObjectSchema(plain) && !isVariantSchema(plain))) return none
  const path = [...base, key]
  const optional = child.type === 'optional'
  if (at(document, path) === undefined) {
    return { groups: [], additions: [{ title: titleOf(key), path, value: startingOf(child) }] }
  }
  const { groups, additions } = formAt(document, path)
  const kinds = isVariantSchema(plain)
    ? { word: wordAt(at(document, path), plain.key), options: variantWords(plain, plain.key) }
    : undefined
  const [own, ...deeper] = groups
  const first = { key: pathText(path), title: titleOf(key), path, fields: own?.fields ?? [], kinds, optional }
  return { groups: [first, ...deeper], additions }
}

/** What a group begins with when it is made one of another kind. */
export function ofKind(document: Json, path: Path, word: string): Json | undefined {
  const stated = schemaAt(scenarioSchema, document, path)
  const schema = stated && bare(stated)
  if (!schema || !isVariantSchema(schema)) return undefined
  const option = settled(schema, { [schema.key]: word })
  return option && startingOf(option)
}

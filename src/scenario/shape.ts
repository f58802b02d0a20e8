/** Lists where the schema has objects: valibot takes a list for an object without keys, people do not. */
import {
  bare,
  childOf,
  isObjectSchema,
  isVariantSchema,
  problemAt,
  settled,
  type AnySchema,
  type Place,
  type Problem,
} from '../units'

export function listsForObjects(document: unknown, schema: AnySchema): Problem[] {
  const problems: Problem[] = []
  const visit = (value: unknown, stated: AnySchema | undefined, place: Place): void => {
    if (typeof value !== 'object' || value === null || !stated) return
    const plain = Array.isArray(value) ? asListed(stated) : settled(stated, value)
    if (plain === 'object') problems.push(problemAt(place, document, 'a list', 'an object, { ... }'))
    else if (plain) {
      const keys = Array.isArray(value) ? value.keys() : Object.keys(value)
      for (const key of keys)
        visit((value as Record<string | number, unknown>)[key], childOf(plain, key), [...place, key])
    }
  }
  visit(document, schema, [])
  return problems
}

/** What a list is taken for: the schema of a list, an object, or undefined where the reading will say what is wrong. */
function asListed(stated: AnySchema): AnySchema | 'object' | undefined {
  const plain = bare(stated)
  if (plain.type === 'array') return plain
  return isObjectSchema(plain) || isVariantSchema(plain) || plain.type === 'record' ? 'object' : undefined
}

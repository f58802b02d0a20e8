/** Scenario documents as JSON: reading and replacing a value at a path, without touching what is shared. */

export type Json = null | boolean | number | string | readonly Json[] | { readonly [key: string]: Json }

export type Path = readonly (string | number)[]

export const pathText = (path: Path): string => path.join('/')

/** A path from its text: what is all digits is a place in a list. */
export const pathOf = (text: string): Path => text.split('/').map((word) => (/^\d+$/.test(word) ? Number(word) : word))

function isList(value: Json): value is readonly Json[] {
  return Array.isArray(value)
}

export function at(document: Json, path: Path): Json | undefined {
  let here: Json | undefined = document
  for (const key of path) {
    if (typeof here !== 'object' || here === null) return undefined
    if (isList(here)) here = typeof key === 'number' ? here[key] : undefined
    else here = Object.hasOwn(here, key) ? here[key] : undefined
    if (here === undefined) return undefined
  }
  return here
}

/** A list of the document, empty where there is none. */
export function listAt(document: Json, key: string): readonly Json[] {
  const value = at(document, [key])
  return value !== undefined && isList(value) ? value : []
}

/** The document with one value replaced, or left out when it is undefined; objects missing on the way are made. */
export function withValue(document: Json, path: Path, value: Json | undefined): Json {
  const [key, ...rest] = path
  if (key === undefined) return value ?? null
  if (typeof document === 'object' && document !== null && isList(document)) {
    return document.map((item, i) => (i === key ? withValue(item, rest, value) : item))
  }
  const object = typeof document === 'object' && document !== null ? document : {}
  if (rest.length === 0 && value === undefined) {
    return Object.fromEntries(Object.entries(object).filter(([name]) => name !== key))
  }
  return { ...object, [key]: rest.length === 0 ? (value ?? null) : withValue(object[key] ?? {}, rest, value) }
}

/**
 * Where two documents differ: paths of single values, of what only one of them has, and of lists as a whole where one is
 * longer, since then their items cannot be set against each other by number. What is shared is not looked into.
 */
export function differences(before: Json | undefined, after: Json | undefined, path: Path = []): Path[] {
  if (before === after) return []
  if (!isHolder(before) || !isHolder(after) || isList(before) !== isList(after)) return [path]
  if (isList(before) && isList(after)) {
    if (before.length !== after.length) return [path]
    return before.flatMap((item, i) => differences(item, after[i], [...path, i]))
  }
  const keys = new Set([...Object.keys(before), ...Object.keys(after)])
  return [...keys].flatMap((key) => differences(at(before, [key]), at(after, [key]), [...path, key]))
}

const isHolder = (value: Json | undefined): value is Exclude<Json, null | boolean | number | string> =>
  typeof value === 'object' && value !== null

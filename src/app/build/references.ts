/** Who refers to a part or a film by its name, so that a rename is followed and a deletion is not a surprise. */
import { at, listAt, withValue, type Json, type Path } from '../state/document'
import { isHolder, wordAt } from './line'

/** Keys that hold the name of a part, and those that hold the name of a film. A test holds them to the schema. */
export const referringKeys = {
  part: ['measures', 'drives', 'roller', 'dancer', 'rides'],
  film: ['film'],
} as const

export type Referred = keyof typeof referringKeys

export interface Reference {
  readonly path: Path
  /** for people: "the zero-speed splice at 3 s" */
  readonly owner: string
}

/** Every place that holds the name. */
export function referencesTo(document: Json, what: Referred, name: string): Reference[] {
  const keys: readonly string[] = referringKeys[what]
  return (['line', 'control', 'stage'] as const).flatMap((list) =>
    listAt(document, list).flatMap((item, place) =>
      keys
        .filter((key) => wordAt(item, key) === name)
        .map((key) => ({ path: [list, place, key], owner: ownerOf(list, item, place) })),
    ),
  )
}

function ownerOf(list: 'line' | 'control' | 'stage', item: Json, place: number): string {
  if (list === 'line') return wordAt(item, 'name')
  if (list === 'control') return `the ${wordAt(item, 'control')} of ${wordAt(item, 'drives')}`
  return `the ${wordAt(item, 'do') || `event ${place + 1}`} staged at ${wordAt(item, 'at')}`
}

/** The part at a place under another name, and all that refer to it with it. */
export function renamedPart(document: Json, place: number, name: string): Json {
  const old = wordAt(listAt(document, 'line')[place], 'name')
  return followed(withValue(document, ['line', place, 'name'], name), 'part', old, name)
}

export function renamedFilm(document: Json, old: string, name: string): Json {
  const films = at(document, ['films'])
  if (!isHolder(films)) return document
  const entries = Object.entries(films).map(([key, film]): [string, Json] => [key === old ? name : key, film])
  return followed(withValue(document, ['films'], Object.fromEntries(entries)), 'film', old, name)
}

function followed(document: Json, what: Referred, old: string, name: string): Json {
  if (old === '') return document
  return referencesTo(document, what, old).reduce((changed, { path }) => withValue(changed, path, name), document)
}

/** Without the controls and events that refer to a part; an idler that rode on it then stands by itself. */
export function withoutReferences(document: Json, name: string): Json {
  const references = referencesTo(document, 'part', name)
  const places = (list: string) => new Set(references.filter(({ path }) => path[0] === list).map(({ path }) => path[1]))
  const riding = references
    .filter(({ path }) => path[0] === 'line')
    .reduce((changed, { path }) => withValue(changed, path, undefined), document)
  return ['control', 'stage'].reduce((changed, list) => {
    const gone = places(list)
    if (gone.size === 0) return changed
    return withValue(
      changed,
      [list],
      listAt(changed, list).filter((_, place) => !gone.has(place)),
    )
  }, riding)
}

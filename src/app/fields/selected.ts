/** The part of the line whose numbers are in hand, and its place among the groups of numbers. */
import { at, listAt, type Json } from '../state/document'
import type { Scenario } from '../state/scenario'
import type { FieldGroup } from './catalogue'
import { upFirst } from './words'

/**
 * Name of the part in hand: the one that was picked, else the one that the question is about, else the first dancer. A name
 * that the line no longer has counts as none.
 */
export function partInHand(document: Json, scenario: Scenario | null, picked: string | null): string | undefined {
  const entries = listAt(document, 'line')
  const names = entries.map((entry) => at(entry, ['name']))
  const dancer = entries.find((entry) => at(entry, ['part']) === 'dancer')
  const found = [picked, scenario?.part, dancer && at(dancer, ['name'])].find(
    (name) => typeof name === 'string' && names.includes(name),
  )
  return typeof found === 'string' ? found : undefined
}

/** The groups with those of the part in hand first: itself, then the trims that measure or drive it. */
export function selectedFirst(document: Json, groups: readonly FieldGroup[], name: string | undefined): FieldGroup[] {
  if (name === undefined) return [...groups]
  const own = listAt(document, 'line').findIndex((entry) => at(entry, ['name']) === name)
  const trims = listAt(document, 'control').flatMap((entry, i) =>
    at(entry, ['measures']) === name || at(entry, ['drives']) === name ? [`control/${i}`] : [],
  )
  const keys = [`line/${own}`, ...trims]
  const bare = { key: `line/${own}`, title: upFirst(name), note: '', fields: [] }
  const found = keys.flatMap((key) => groups.filter((group) => group.key === key))
  // A part without main numbers, such as an idler, has a group only while it is in hand.
  const first = found[0]?.key === bare.key ? found : [bare, ...found]
  return [...first, ...groups.filter((group) => !keys.includes(group.key))]
}

/** What differs between two documents, place by place, in words: old and new. */
import { placeWords } from '../fields/words'
import { at, differences, pathText, type Json, type Path } from '../state/document'

export interface Change {
  readonly key: string
  readonly where: string
  readonly before: string
  readonly after: string
}

/** Texts that say what the file is about, not what the line does. */
const besides = new Set(['title', 'about'])

/** From the one to the other; lists of events of unequal length are set against each other event by event. */
export function changesBetween(before: Json, after: Json): Change[] {
  return differences(before, after)
    .filter((path) => !besides.has(pathText(path)))
    .flatMap((path) => changesAt(before, after, path))
}

function changesAt(before: Json, after: Json, path: Path): Change[] {
  const [old, now] = [at(before, path), at(after, path)]
  if (Array.isArray(old) && Array.isArray(now)) return itemsChanged(before, after, path)
  const where = placeWords(now === undefined ? before : after, path)
  return [{ key: pathText(path), where, before: wordsOf(old), after: wordsOf(now) }]
}

/** Items that only one of two lists has. */
function itemsChanged(before: Json, after: Json, path: Path): Change[] {
  const itemsOf = (document: Json) => {
    const list = at(document, path)
    const items: readonly Json[] = Array.isArray(list) ? (list as readonly Json[]) : []
    return items.map((item, i) => ({ i, text: JSON.stringify(item), words: placeWords(document, [...path, i]), item }))
  }
  const [old, now] = [itemsOf(before), itemsOf(after)]
  const without = (items: typeof old, others: typeof old) =>
    items.filter(({ text }) => !others.some((other) => other.text === text))
  return [
    ...without(old, now).map(({ i, words, item }) => {
      return { key: `${pathText(path)} - ${i}`, where: words, before: wordsOf(item), after: nothing }
    }),
    ...without(now, old).map(({ i, words, item }) => {
      return { key: `${pathText(path)} + ${i}`, where: words, before: nothing, after: wordsOf(item) }
    }),
  ]
}

const nothing = 'none'
/** Longer ones are told by their beginning. */
const longest = 120

/** A value as it stands in the file; of a part or an event its own entries. */
function wordsOf(value: Json | undefined): string {
  if (value === undefined || value === null) return nothing
  if (typeof value !== 'object') return String(value)
  const entries = Object.entries(value).map(([key, entry]) => `${key} ${wordsOf(entry)}`)
  const text = entries.join(', ')
  return text.length > longest ? `${text.slice(0, longest - 1)}…` : text
}

/**
 * Editing the list of parts. Rollers and spans alternate, from unwind to rewind: a roller that is added brings a span, one
 * that is taken out leaves one span with the length of both, two that change places leave the spans where they are.
 */
import { formatQuantity, parseQuantity } from '../../units'
import { listAt, withValue, type Json } from '../state/document'

type Holder = { readonly [key: string]: Json }

export const isHolder = (value: Json | undefined): value is Holder =>
  typeof value === 'object' && value !== null && !Array.isArray(value)

export const wordAt = (value: Json | undefined, key: string): string => {
  const word = isHolder(value) ? value[key] : undefined
  return typeof word === 'string' ? word : ''
}

/** Something on the line that is not film: a roll, a roller or a bar. */
export interface Entry {
  /** in the list of parts */
  readonly place: number
  readonly part: string
  readonly name: string
  /** place of the span behind it */
  readonly span: number | undefined
}

const isSpan = (part: Json | undefined) => wordAt(part, 'part') === 'span'

export function entriesOf(document: Json): Entry[] {
  const line = listAt(document, 'line')
  return line.flatMap((part, place) => {
    if (isSpan(part)) return []
    const span = isSpan(line[place + 1]) ? place + 1 : undefined
    return [{ place, part: wordAt(part, 'part'), name: wordAt(part, 'name'), span }]
  })
}

const withLine = (document: Json, line: readonly Json[]): Json => withValue(document, ['line'], line)

/** A span as long as the one it stands beside, or of a usual length. */
const spanLike = (part: Json | undefined): Json =>
  isHolder(part) && isSpan(part) ? part : { part: 'span', length: '500 mm' }

/** Unlike all names on the line, and counted on where others are counted: "idler 3" after "idler 2". */
export function freeName(document: Json, wish: string): string {
  const taken = new Set(entriesOf(document).map(({ name }) => name))
  const [, stem = wish] = /^(.*?)\s*\d*$/.exec(wish) ?? []
  const counted = [...taken].some((name) => /^ \d+$/.test(name.startsWith(stem) ? name.slice(stem.length) : ''))
  if (!taken.has(wish) && (wish !== stem || !counted)) return wish
  for (let number = 2; ; number++) if (!taken.has(`${stem} ${number}`)) return `${stem} ${number}`
}

export interface Edited {
  readonly document: Json
  /** place of the part that was added or moved */
  readonly place: number
}

/** Behind the part at a place, or before the last one. The part comes with a name of its own. */
export function added(document: Json, after: number, part: Holder): Edited {
  const line = listAt(document, 'line')
  const last = entriesOf(document).at(-2)?.place ?? 0
  const behind = Math.max(0, Math.min(after, last))
  const named = { ...part, name: freeName(document, wordAt(part, 'name')) }
  const span = spanLike(line[behind + 1])
  const place = behind + 2
  return { document: withLine(document, line.toSpliced(behind + 1, 0, span, named)), place }
}

export function copied(document: Json, place: number): Edited {
  const part = listAt(document, 'line')[place]
  return isHolder(part) ? added(document, place, part) : { document, place }
}

const entryAt = (entries: readonly Entry[], place: number) => entries.findIndex((entry) => entry.place === place)

/** Whether a part can change places: the rolls at the ends stay. */
export function canMove(document: Json, place: number, by: -1 | 1): boolean {
  const entries = entriesOf(document)
  const here = entryAt(entries, place)
  const there = here + by
  return here > 0 && here < entries.length - 1 && there > 0 && there < entries.length - 1
}

/** Why a part cannot be taken out; empty where it can. */
export function whyStays(document: Json, place: number): string {
  const isRoll = ({ part }: Entry) => part === 'unwind' || part === 'rewind'
  const entries = entriesOf(document)
  const here = entries.find((entry) => entry.place === place)
  if (!here || isRoll(here)) return 'The rolls stand at the ends of the line, and stay.'
  const others = entries.filter((entry) => entry !== here && !isRoll(entry) && entry.part !== 'bar')
  return others.length > 0 ? '' : 'It is the last roller, and a line needs one: add another first.'
}

/** Changes places with its neighbour. */
export function moved(document: Json, place: number, by: -1 | 1): Edited {
  const entries = entriesOf(document)
  const other = entries[entryAt(entries, place) + by]
  const line = listAt(document, 'line')
  const [a, b] = [line[place], other && line[other.place]]
  if (!canMove(document, place, by) || !other || a === undefined || b === undefined) return { document, place }
  return { document: withLine(document, line.with(place, b).with(other.place, a)), place: other.place }
}

/** Without the part; the film then goes straight on over the length of both spans. */
export function removed(document: Json, place: number): Json {
  const line = listAt(document, 'line')
  const [before, behind] = [line[place - 1], line[place + 1]]
  if (!isHolder(before) || !isSpan(before)) return withLine(document, line.toSpliced(place, 1))
  if (!isSpan(behind)) return withLine(document, line.toSpliced(place - 1, 2))
  const length = together(wordAt(before, 'length'), wordAt(behind, 'length'))
  return withLine(document, line.toSpliced(place - 1, 3, { ...before, length }))
}

/** Two lengths in the unit of the first; the first alone where one does not read. */
function together(first: string, second: string): string {
  const [a, b] = [parseQuantity(first, 'length'), parseQuantity(second, 'length')]
  return a.ok && b.ok ? formatQuantity(a.value + b.value, a.unit, 6, 'length') : first
}

/** Which parts and films of a line an event, a control or another part can be about. */
import { at, listAt, type Json, type Path } from '../state/document'

export interface Part {
  readonly place: number
  readonly part: string
  readonly name: string
}

export const word = (document: Json, path: Path): string => {
  const value = at(document, path)
  return typeof value === 'string' ? value : ''
}

export const partsOf = (document: Json): Part[] =>
  listAt(document, 'line').map((item, place) => ({ place, part: word(item, ['part']), name: word(item, ['name']) }))

export function filmsOf(document: Json): string[] {
  const films = at(document, ['films'])
  return typeof films === 'object' && films !== null && !Array.isArray(films) ? Object.keys(films) : []
}

const has = (document: Json, { place }: Part, key: string): boolean => at(document, ['line', place, key]) !== undefined
export const driveKind = (document: Json, { place }: Part): string => word(document, ['line', place, 'drive', 'kind'])

const tapers = new Set(['tension trim', 'force taper'])
const forces = new Set(['force taper'])

/** What a control of one of these kinds drives. */
const drivenBy = (document: Json, controls: ReadonlySet<string>): Set<string> =>
  new Set(
    listAt(document, 'control').flatMap((item) =>
      controls.has(word(item, ['control'])) ? [word(item, ['drives'])] : [],
    ),
  )

/** The parts that an event of a kind can be about, in the order of the film's path. */
export function partsFor(document: Json, act: string): Part[] {
  const parts = partsOf(document)
  switch (act) {
    case 'changeover':
      return parts.filter((p) => p.part === 'driven' && has(document, p, 'index'))
    case 'draw':
      return parts.filter((p) => p.part === 'driven' || (p.part === 'rewind' && driveKind(document, p) !== 'torque'))
    case 'dancer force': {
      const tapered = drivenBy(document, forces)
      return parts.filter((p) => p.part === 'dancer' && !has(document, p, 'cylinder') && !tapered.has(p.name))
    }
    case 'dancer pressure':
      return parts.filter((p) => p.part === 'dancer' && has(document, p, 'cylinder'))
    case 'set point':
      return parts.filter((p) => p.part === 'dancer')
    case 'winding tension': {
      const tapered = drivenBy(document, tapers)
      return parts.filter((p) => driveKind(document, p) === 'torque' || tapered.has(p.name))
    }
    default:
      return []
  }
}

const namesOf = (document: Json, ...kinds: readonly string[]): string[] =>
  partsOf(document).flatMap(({ part, name }) => (kinds.includes(part) ? [name] : []))

/** What each kind of control measures, and what it drives. */
const controlled: Readonly<Record<string, readonly [measures: readonly string[], drives: readonly string[]]>> = {
  'position trim': [['dancer'], ['unwind', 'driven', 'rewind']],
  'tension trim': [['idler'], ['unwind', 'driven', 'rewind']],
  'force taper': [['unwind', 'rewind'], ['dancer']],
}

/** The names that a field can take. */
export function namesFor(document: Json, path: Path): string[] {
  const key = path.at(-1)
  if (key === 'film') return filmsOf(document)
  if (key === 'rides') return namesOf(document, 'dancer')
  if (path[0] === 'control') {
    const [measures, drives] = controlled[word(document, [...path.slice(0, 2), 'control'])] ?? [[], []]
    return namesOf(document, ...(key === 'measures' ? measures : drives))
  }
  return partsFor(document, word(document, [...path.slice(0, 2), 'do'])).map(({ name }) => name)
}

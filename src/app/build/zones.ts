/**
 * Stretches of film between one drive and the next. In each the tension can be held by one thing only: a dancer, a torque
 * drive, a brake, or a load cell whose trim drives one of the ends. Two of them pull against each other, and the line has no
 * steady state. (Common practice, no source; the operating point of such a line cannot be found, which a test shows.)
 */
import { at, listAt, type Json } from '../state/document'
import { entriesOf, wordAt, type Entry } from './line'

export interface Holder {
  readonly what: 'dancer' | 'drive' | 'load cell'
  /** the part */
  readonly name: string
  /** place of a load cell's trim in the list of controls */
  readonly control: number
}

export interface Zone {
  /** the drives at its ends */
  readonly from: Entry
  readonly to: Entry
  /** what lies between them */
  readonly parts: readonly Entry[]
  readonly holders: readonly Holder[]
}

const isDriven = ({ part }: Entry) => part === 'unwind' || part === 'driven' || part === 'rewind'

const driveAt = (document: Json, { place }: Entry): string => {
  const kind = at(document, ['line', place, 'drive', 'kind'])
  return typeof kind === 'string' ? kind : ''
}

/** Whether a drive is told a speed, and so can be trimmed by a dancer. */
export const followsSpeed = (document: Json, entry: Entry): boolean =>
  isDriven(entry) && !['', 'brake', 'torque'].includes(driveAt(document, entry))

export function zonesOf(document: Json): Zone[] {
  const entries = entriesOf(document)
  const ends = entries.flatMap((entry, i) => (isDriven(entry) ? [i] : []))
  return ends.slice(1).flatMap((last, k) => {
    const first = ends[k] ?? 0
    const [from, to] = [entries[first], entries[last]]
    if (!from || !to) return []
    const parts = entries.slice(first + 1, last)
    return [{ from, to, parts, holders: holdersIn(document, from, to, parts) }]
  })
}

function holdersIn(document: Json, from: Entry, to: Entry, parts: readonly Entry[]): Holder[] {
  const dancers = parts.filter(({ part }) => part === 'dancer')
  const ends = [
    ...(from.part === 'unwind' && ['brake', 'torque'].includes(driveAt(document, from)) ? [from] : []),
    ...(to.part === 'rewind' && driveAt(document, to) === 'torque' ? [to] : []),
  ]
  const cells = listAt(document, 'control').flatMap((control, place): Holder[] => {
    if (wordAt(control, 'control') !== 'tension trim') return []
    const [measures, drives] = [wordAt(control, 'measures'), wordAt(control, 'drives')]
    const trimsEnd = drives === from.name || drives === to.name
    // A winder that holds tension itself and the load cell that corrects it are one.
    const isCorrection = ends.some(({ name }) => name === drives)
    const isHere = parts.some(({ name }) => name === measures)
    return isHere && trimsEnd && !isCorrection ? [{ what: 'load cell', name: measures, control: place }] : []
  })
  return [
    ...dancers.map(({ name }): Holder => ({ what: 'dancer', name, control: -1 })),
    ...ends.map(({ name }): Holder => ({ what: 'drive', name, control: -1 })),
    ...cells,
  ]
}

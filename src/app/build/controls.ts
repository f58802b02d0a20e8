/** Controls that a line can be given, each with parts that it can measure and drive. */
import { readDocument } from '../../scenario/read'
import { listAt, withValue, type Json } from '../state/document'
import { entriesOf, wordAt } from './line'
import { trimOf } from './starting'

interface ControlOffer {
  readonly title: string
  /** what it is for, a sentence */
  readonly about: string
  /** undefined where the line has nothing for it */
  readonly control: Json | undefined
  /** why there is nothing; else empty */
  readonly why: string
}

export const controlTitle = (control: Json): string =>
  `${wordAt(control, 'control')}, ${wordAt(control, 'measures')} → ${wordAt(control, 'drives')}`

type Make = (measures: string, drives: string) => Json

/** Figures are usual ones from memory, without a source. */
const cell: Make = (measures, drives) => ({
  ...{ control: 'tension trim', measures, drives, kind: 'speed', tension: '50 N' },
  ...{ gain: '0.005 m/min/N', integral: '0.02 m/min/(N s)', limit: '3 m/min' },
})
const winder: Make = (measures, drives) => ({
  ...{ control: 'tension trim', measures, drives, kind: 'torque', tension: '50 N' },
  ...{ gain: '20 %', integral: '1 1/s', limit: '20 N' },
})
const taper: Make = (measures, drives) => ({
  ...{ control: 'force taper', measures, drives },
  ...{ tension: '50 N', law: 'linear', taper: '30 %', fullDiameter: '400 mm' },
})

const driven = ['unwind', 'driven', 'rewind']
const kinds = [
  {
    ...{ title: 'Position trim', make: trimOf, measures: ['dancer'], drives: driven },
    about: 'Changes the speed of a drive so that a dancer comes back to its set point.',
    why: 'It needs a dancer, and a drive beside it that follows speed and is not trimmed yet.',
  },
  {
    ...{ title: 'Tension trim of a speed', make: cell, measures: ['idler'], drives: driven },
    about: 'Changes the speed of a drive so that an idler on load cells feels the tension asked for.',
    why: 'It needs an idler, and a drive that follows speed and is not trimmed yet.',
  },
  {
    ...{ title: 'Tension trim of a torque', make: winder, measures: ['idler'], drives: driven },
    about: 'Corrects what a winder on torque holds by itself, by what an idler on load cells feels.',
    why: 'It needs an idler, and a roll whose drive is of kind "torque" and is not trimmed yet.',
  },
  {
    ...{ title: 'Force taper', make: taper, measures: ['rewind'], drives: ['dancer'] },
    about: 'Lets the force on the dancer before the rewind fall as the roll grows.',
    why: 'It needs a dancer whose force nothing else sets.',
  },
] as const

export function controlsToAdd(document: Json): ControlOffer[] {
  return kinds.map(({ title, about, why, make, measures, drives }) => {
    const control = firstThatReads(document, make, measures, drives)
    return { title, about, control, why: control === undefined ? why : '' }
  })
}

/** The first pair of neighbours that the reader takes; the fields can be changed afterwards. */
function firstThatReads(
  document: Json,
  make: Make,
  measures: readonly string[],
  drives: readonly string[],
): Json | undefined {
  const entries = entriesOf(document)
  const controls = listAt(document, 'control')
  const pairs = entries
    .flatMap((one, i) => (measures.includes(one.part) ? [{ one, i }] : []))
    .flatMap(({ one, i }) =>
      entries.flatMap((other, k) => (drives.includes(other.part) ? [{ one, other, far: Math.abs(i - k) }] : [])),
    )
    .filter(({ other }) => !controls.some((control) => wordAt(control, 'drives') === other.name))
    .sort((a, b) => a.far - b.far)
  return pairs
    .map(({ one, other }) => make(one.name, other.name))
    .find((control) => readDocument(withValue(document, ['control'], [...controls, control])).ok)
}

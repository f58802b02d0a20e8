/** A scenario as it is opened, and the one that stands there before anybody has chosen. */
import opening from '../../../scenarios/zero-speed-splice.json'
import { at, type Json } from './document'

export interface Scenario {
  /** File name without its ending: unique, and stable enough for an address. */
  readonly key: string
  readonly title: string
  readonly about: string
  readonly document: Json
  /** Key of the page that it is about; without one, the first. */
  readonly page?: string | undefined
  /** Name of the part that it is about; without one, its first dancer. */
  readonly part?: string | undefined
}

const textOf = (document: Json, key: string): string => {
  const value = at(document, [key])
  return typeof value === 'string' ? value : ''
}

export const fromDocument = (key: string, document: Json): Scenario => {
  return { key, title: textOf(document, 'title') || key, about: textOf(document, 'about'), document }
}

/** Known without the others, so that the first visit need not fetch them all before it runs. */
export const firstScenario: Scenario = fromDocument('zero-speed-splice', opening)

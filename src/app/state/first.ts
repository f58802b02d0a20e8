/** A scenario as it is opened, and the one that the page opens with; all others come with the gallery. */
import first from '../../../scenarios/zero-speed-splice.json'
import { at, type Json } from './document'

export interface Scenario {
  /** File name without its ending: unique, and stable enough for an address. */
  readonly key: string
  readonly title: string
  readonly about: string
  readonly document: Json
  /** Key of the page that it is about; without one, the first. */
  readonly page?: string | undefined
}

const textOf = (document: Json, key: string): string => {
  const value = at(document, [key])
  return typeof value === 'string' ? value : ''
}

/** @param key its file's name without the ending */
export function scenarioOf(key: string, document: Json): Scenario {
  return { key, title: textOf(document, 'title') || key, about: textOf(document, 'about'), document }
}

export const firstScenario: Scenario = scenarioOf('zero-speed-splice', first)

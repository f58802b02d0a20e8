/** The scenarios that come with the page. */
import { at, type Json } from './document'

export interface Scenario {
  /** File name without its ending: unique, and stable enough for an address. */
  readonly key: string
  readonly title: string
  readonly about: string
  readonly document: Json
}

const files = import.meta.glob<Json>('/scenarios/*.json', { eager: true, import: 'default' })

/** Shown when the page is opened; the first of the gallery when there is none of that name. */
const opening = 'zero-speed-splice'

const textOf = (document: Json, key: string): string => {
  const value = at(document, [key])
  return typeof value === 'string' ? value : ''
}

export const gallery: readonly Scenario[] = Object.entries(files).map(([path, document]) => {
  const key = path.replace(/^.*\//, '').replace(/\.json$/, '')
  return { key, title: textOf(document, 'title') || key, about: textOf(document, 'about'), document }
})

export const firstScenario = (): Scenario | undefined => gallery.find(({ key }) => key === opening) ?? gallery[0]

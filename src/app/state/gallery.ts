/** The scenarios that come with the page. */
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

/** The short gallery, for a newcomer: one question of each sort, and the page that answers it. */
const short: readonly { readonly key: string; readonly page?: string }[] = [
  { key: 'zero-speed-splice' },
  { key: 'taper-wind-up', page: 'roll' },
  { key: 'sticky-dancer-hunting', page: 'dancer' },
  { key: 'thick-to-thin' },
  { key: 'continuous-to-indexing' },
  { key: 'start-stop' },
]

export const shortGallery: readonly Scenario[] = short.flatMap(({ key, page }) => {
  const scenario = gallery.find((one) => one.key === key)
  return scenario ? [{ ...scenario, page }] : []
})

export const firstScenario = (): Scenario | undefined => gallery.find(({ key }) => key === opening) ?? gallery[0]

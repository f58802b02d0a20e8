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

/** Questions that another page than the first answers. */
const answeredOn: Readonly<Record<string, string>> = {
  'loop-too-slow': 'dancer',
  'roll-foil': 'roll',
  'roll-soft-film': 'roll',
  'roll-stop-in-the-middle': 'roll',
  'roll-tag-stock-small-core': 'roll',
  'roll-too-little-taper': 'roll',
  'sticky-dancer-hunting': 'dancer',
  'taper-wind-up': 'roll',
}

export const gallery: readonly Scenario[] = Object.entries(files).map(([path, document]) => {
  const key = path.replace(/^.*\//, '').replace(/\.json$/, '')
  const texts = { title: textOf(document, 'title') || key, about: textOf(document, 'about') }
  return { key, ...texts, document, page: answeredOn[key] }
})

/** For a newcomer: one question of each sort. */
const short = [
  'zero-speed-splice',
  'taper-wind-up',
  'sticky-dancer-hunting',
  'thick-to-thin',
  'continuous-to-indexing',
  'start-stop',
]

export const shortGallery: readonly Scenario[] = short.flatMap((key) => gallery.filter((one) => one.key === key))

export const firstScenario = (): Scenario | undefined => gallery.find(({ key }) => key === opening) ?? gallery[0]

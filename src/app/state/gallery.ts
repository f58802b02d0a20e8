/** The scenarios that come with the page: fetched when somebody looks at the questions. */
import type { Json } from './document'
import { fromDocument, type Scenario } from './scenario'

const files = import.meta.glob<Json>('/scenarios/*.json', { eager: true, import: 'default' })

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
  return { ...fromDocument(key, document), page: answeredOn[key] }
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

/** The scenarios that come with the page: fetched when somebody looks at the questions. */
import type { Json } from './document'
import { fromDocument, type Scenario } from './scenario'

const files = import.meta.glob<Json>('/scenarios/*.json', { eager: true, import: 'default' })

export const gallery: readonly Scenario[] = Object.entries(files).map(([path, document]) =>
  fromDocument(path.replace(/^.*\//, '').replace(/\.json$/, ''), document),
)

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

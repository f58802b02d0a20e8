/** Whole lines to start from. */
import type { Json } from '../state/document'
import { fromDocument, type Scenario } from '../state/scenario'

const files = import.meta.glob<Json>('./templates/*.json', { eager: true, import: 'default' })

export const templates: readonly Scenario[] = Object.entries(files).map(([path, document]) =>
  fromDocument(`template ${path.replace(/^.*\//, '').replace(/\.json$/, '')}`, document),
)

/** Whole lines to start from. */
import { at, type Json } from '../state/document'
import type { Scenario } from '../state/first'

const files = import.meta.glob<Json>('./templates/*.json', { eager: true, import: 'default' })

const textOf = (document: Json, key: string): string => {
  const text = at(document, [key])
  return typeof text === 'string' ? text : ''
}

export const templates: readonly Scenario[] = Object.entries(files).map(([path, document]) => {
  const key = `template ${path.replace(/^.*\//, '').replace(/\.json$/, '')}`
  return { key, title: textOf(document, 'title'), about: textOf(document, 'about'), document }
})

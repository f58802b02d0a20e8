/** A link that was followed to the page: to a scenario that is a copy and says so. */
import { at, withValue, type Json } from '../state/document'
import type { Scenario } from '../state/scenario'
import { linkWord } from '../state/route.svelte'
import { packed, unpacked } from './link'

export type Followed = { readonly ok: true; readonly scenario: Scenario } | { readonly ok: false; readonly say: string }

/** @param address of this page, without what stands behind `#` */
export async function linkTo(document: Json, page: string, address: string): Promise<string> {
  return `${address}#${linkWord}/${await packed(document)}/${page}`
}

/** @param hash what stands behind `#`: word, document, and the page to open it on */
export async function followed(hash: string): Promise<Followed> {
  const [, code = '', page = ''] = hash.replace(/^#/, '').split('/')
  const opened = await unpacked(code)
  if (!opened.ok) return opened
  const title = copyName(textOf(opened.document, 'title'))
  const document = withValue(opened.document, ['title'], title)
  const about = textOf(opened.document, 'about')
  return { ok: true, scenario: { key: `link/${code.slice(0, 40)}`, title, about, document, page } }
}

const textOf = (document: Json, key: string): string => {
  const value = at(document, [key])
  return typeof value === 'string' ? value : ''
}

/** A copy of a copy is a copy. */
export function copyName(title: string): string {
  if (title === '') return 'Copy of a line'
  return title.startsWith('Copy of ') ? title : `Copy of “${title}”`
}

/** Scenario files to and from the machine that the browser runs on. */
import { MOST_TEXT } from '../../scenario/limits'
import { readScenario } from '../../scenario/read'
import { writeScenario } from '../../scenario/write'
import type { Json } from '../state/document'
import type { Scenario } from '../state/scenario'
import { isJson } from './records'

export type Opening =
  | { readonly ok: true; readonly scenario: Scenario }
  | { readonly ok: false; readonly name: string; readonly says: readonly string[] }

/** No character takes more bytes than four: a larger file is not even read. */
const mostBytes = 4 * MOST_TEXT

export async function openFile(file: File): Promise<Opening> {
  const name = file.name
  if (file.size > mostBytes)
    return { ok: false, name, says: [`The file has ${Math.round(file.size / 1e6)} MB; at most 2 MB are read.`] }
  let text: string
  try {
    text = await file.text()
  } catch {
    return { ok: false, name, says: ['The file could not be read. Is it still there?'] }
  }
  const reading = readScenario(text)
  if (!reading.ok) return { ok: false, name, says: reading.problems.map(({ say }) => say) }
  const { title, about } = reading.scenario
  const document: unknown = reading.document
  if (!isJson(document)) return { ok: false, name, says: ['The file holds something that cannot be kept.'] }
  return { ok: true, scenario: { key: `file/${name}`, title, about, document } }
}

/** Hands a text to the browser to be saved. */
export function saveFile(name: string, text: string): void {
  const address = URL.createObjectURL(new Blob([text], { type: 'application/json' }))
  const link = document.createElement('a')
  link.href = address
  link.download = name
  link.click()
  // The browser takes it up after this turn.
  setTimeout(() => URL.revokeObjectURL(address), 10_000)
}

export const saveScenario = (title: string, document: Json): void => saveFile(fileName(title), writeScenario(document))

/** Words of the title that any system takes in a file's name. */
export function fileName(title: string): string {
  const words = title
    .toLowerCase()
    .normalize('NFKD')
    .match(/[a-z0-9]+/g)
  return `${(words ?? ['line']).join('-').slice(0, 60)}.json`
}

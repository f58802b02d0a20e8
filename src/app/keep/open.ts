/** Opens scenario files: it brings the scenario's checks along, which the first picture does without. */
import { MOST_TEXT } from '../../scenario/limits'
import { readScenario } from '../../scenario/read'
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

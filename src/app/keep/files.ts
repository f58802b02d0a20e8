/** Files to the machine that the browser runs on. */
import { writeScenario } from '../../scenario/write'
import type { Json } from '../state/document'

/** Hands a file to the browser to be saved. */
export function saveFile(name: string, content: Blob): void {
  const address = URL.createObjectURL(content)
  const link = document.createElement('a')
  link.href = address
  link.download = name
  link.click()
  // The browser takes it up after this turn.
  setTimeout(() => URL.revokeObjectURL(address), 10_000)
}

export const saveJson = (name: string, text: string): void =>
  saveFile(name, new Blob([text], { type: 'application/json' }))

export const saveScenario = (title: string, document: Json): void =>
  saveJson(fileName(title, 'json'), writeScenario(document))

/** Words of the title that any system takes in a file's name. */
export function fileName(title: string, ending: string): string {
  const words = title
    .toLowerCase()
    .normalize('NFKD')
    .match(/[a-z0-9]+/g)
  return `${(words ?? ['line']).join('-').slice(0, 60)}.${ending}`
}

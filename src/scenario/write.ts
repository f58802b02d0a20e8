/**
 * A document as text for people: keys in the order in which they were read, a part, a film or an event to a line where it is
 * short enough, so that a change of one part is a change of one line.
 */

const WIDEST = 160

/** Text that reads back to an equal document. */
export function writeScenario(document: unknown): string {
  return `${write(document, 0)}\n`
}

function write(value: unknown, depth: number): string {
  const short = oneLine(value)
  const entries = entriesOf(value)
  if (entries.length === 0 || (!alwaysOpen(value, depth) && 2 * depth + short.length <= WIDEST)) return short
  const indent = '  '.repeat(depth)
  const lines = entries.map(([key, item]) => `${indent}  ${label(key)}${write(item, depth + 1)}`)
  const [open, close] = Array.isArray(value) ? '[]' : '{}'
  return `${open}\n${lines.join(',\n')}\n${indent}${close}`
}

/** The file itself, and in it the lists of films, parts, controls and events. */
function alwaysOpen(value: unknown, depth: number): boolean {
  if (depth === 0) return true
  return depth === 1 && entriesOf(value).some(([, item]) => typeof item === 'object' && item !== null)
}

function oneLine(value: unknown): string {
  const entries = entriesOf(value)
  if (entries.length === 0) return JSON.stringify(value) ?? 'null'
  const items = entries.map(([key, item]) => `${label(key)}${oneLine(item)}`).join(', ')
  return Array.isArray(value) ? `[${items}]` : `{ ${items} }`
}

const label = (key: string | undefined) => (key === undefined ? '' : `${JSON.stringify(key)}: `)

/** What a list or an object holds; keys that hold nothing are left out, as JSON does. */
function entriesOf(value: unknown): readonly (readonly [string | undefined, unknown])[] {
  if (Array.isArray(value)) return value.map((item: unknown) => [undefined, item] as const)
  if (typeof value !== 'object' || value === null) return []
  return Object.entries(value).filter(([, item]) => item !== undefined)
}

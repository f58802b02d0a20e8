/**
 * The message of a schema carries two things to people: what was expected, and what to do about it. They travel in
 * valibot's one message string, a line each, and are taken apart again where problems are made.
 */

export interface Wording {
  readonly expected: string
  readonly hint?: string
}

export function tell(expected: string, hint?: string): string {
  return hint === undefined ? expected : `${expected}\n${hint}`
}

export function untell(message: string): Wording {
  const [expected = '', hint] = message.split('\n')
  return hint === undefined ? { expected } : { expected, hint }
}

const longest = 60

/** Something found in a file, short enough to stand inside a sentence. */
export function show(found: unknown): string {
  if (typeof found === 'string') return JSON.stringify(clip(found))
  if (found === undefined) return 'nothing'
  if (Array.isArray(found)) return 'a list'
  if (found === null || typeof found === 'number' || typeof found === 'boolean') return String(found)
  return typeof found === 'object' ? 'an object' : `a ${typeof found}`
}

export function clip(text: string): string {
  return text.length > longest ? `${text.slice(0, longest - 1)}…` : text
}

export function listed(words: readonly string[]): string {
  return words.map((word) => `"${word}"`).join(', ')
}

export function firstLetterUp(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1)
}

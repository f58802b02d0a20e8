/** The known word that somebody who wrote this one most likely meant. */
import { distance } from 'fastest-levenshtein'

/** Undefined when nothing known is near enough: a third of the word may differ, but not all of it. */
export function nearest(word: string, known: readonly string[]): string | undefined {
  if (word.length > 80) return undefined
  const plain = word.toLowerCase()
  let best: string | undefined
  let least = Math.ceil(word.length / 3) + 1
  for (const candidate of known) {
    const apart = distance(plain, candidate.toLowerCase())
    if (apart < least && apart < word.length) {
      least = apart
      best = candidate
    }
  }
  return best
}

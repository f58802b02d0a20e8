/** Where a limit is kept, in a sentence. */
import type { JobResult } from '../../../workers/client'
import type { LimitFound } from '../../tune/find-limit'
import type { Sample, Stretch } from '../../tune/holding'

export interface Told {
  /** the figure, in words */
  readonly figure: string
  /** "at most 40 %" */
  readonly limit: string
  readonly label: string
  readonly samples: readonly Sample[]
  readonly stretches: readonly Stretch[]
  readonly text: (value: number) => string
  /** of a value at the limit, which rounding must not move over it */
  readonly exact: (value: number) => string
}

export function sentenceOf({ figure, limit, label, samples, stretches, text, exact }: Told): string {
  const [first, last] = [samples[0], samples.at(-1)]
  if (!first || !last) return ''
  const range = `from ${text(first.x)} to ${text(last.x)}`
  const could = samples.filter((sample) => sample.kept !== null)
  if (could.length === 0) return `The line could not be run with any value ${range}: what stands in the table says why.`
  const kept = `${figure} ${limit}`
  const isWhole = could.length === samples.length
  if (stretches.length === 0) return `Nowhere ${range} is it kept: ${kept}. Widen the range, or change something else.`
  const [only] = stretches
  if (only && stretches.length === 1 && isWhole && only.begins === 'end' && only.ends === 'end') {
    return `It is kept everywhere ${range}: ${kept}. The limit lies beyond; widen the range to find it.`
  }
  const words = stretches.map((one) => stretchWords(one, text, exact))
  return `${label} keeps it ${words.join(', and ')}: ${kept}.`
}

function stretchWords({ from, to, begins, ends }: Stretch, text: Told['text'], exact: Told['exact']): string {
  const why = begins === 'no run' || ends === 'no run' ? ' (beyond, the line could not be run)' : ''
  const first = begins === 'limit' ? exact(from) : text(from)
  const last = ends === 'limit' ? exact(to) : text(to)
  if (begins === 'end' && ends === 'limit') return `up to ${last}`
  if (begins === 'limit' && ends === 'end') return `from ${first} on`
  return `between ${first} and ${last}${why}`
}

/** Why a search for the limit has not found it; empty where it has. */
export function troubleOf(result: JobResult<LimitFound> | undefined, text: Told['text']): string {
  const notFound = 'The limit was not found'
  if (!result) return ''
  if (!result.ok) return `${notFound}: ${result.say}`
  const { value } = result
  if (value.found === 'broken') return `${notFound}, since the run at ${text(value.value)} gave no answer: ${value.say}`
  return value.found ? '' : `${notFound}: the same values gave another answer than before. Ask again.`
}

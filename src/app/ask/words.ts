/** Where a limit is kept, in a sentence. */
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
}

export function sentenceOf({ figure, limit, label, samples, stretches, text }: Told): string {
  const [first, last] = [samples[0], samples.at(-1)]
  if (!first || !last) return ''
  const range = `from ${text(first.x)} to ${text(last.x)}`
  const could = samples.filter((sample) => sample.figure !== null)
  if (could.length === 0) return `The line could not be run with any value ${range}: what stands in the table says why.`
  const kept = `${figure} ${limit}`
  const isWhole = could.length === samples.length
  if (stretches.length === 0) return `Nowhere ${range} is it kept: ${kept}. Widen the range, or change something else.`
  const [only] = stretches
  if (only && stretches.length === 1 && isWhole && only.begins === 'end' && only.ends === 'end') {
    return `It is kept everywhere ${range}: ${kept}. The limit lies beyond; widen the range to find it.`
  }
  return `${label} keeps it ${stretches.map((one) => stretchWords(one, text)).join(', and ')}: ${kept}.`
}

function stretchWords({ from, to, begins, ends }: Stretch, text: (value: number) => string): string {
  const why = begins === 'no run' || ends === 'no run' ? ' (beyond, the line could not be run)' : ''
  if (begins === 'end' && ends === 'limit') return `up to ${text(to)}`
  if (begins === 'limit' && ends === 'end') return `from ${text(from)} on`
  return `between ${text(from)} and ${text(to)}${why}`
}

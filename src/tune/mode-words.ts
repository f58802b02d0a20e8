/** A mode in a sentence. */
import { formatNumber } from '../units'
import type { Mode } from './modes'

type Figures = Omit<Mode, 'say'>

export function wordsFor(mode: Figures): string {
  return `${subject(mode)} ${course(mode)}`
}

function subject({ kind, parts }: Figures): string {
  const named = (wanted: string) => parts.find((p) => p.kind === wanted)?.part
  const first = parts[0]?.part ?? 'The line'
  switch (kind) {
    case 'dancer on held film':
      return `${named('dancer') ?? first} on the film beside it`
    case 'dancer by itself':
      return `${named('dancer') ?? first} by itself, on its spring, with the film going along,`
    case 'rollers on film':
      return `${named('roller') ?? first} to and fro between its spans,`
    case 'loop':
      return `The loop of the ${named('loop') ?? named('dancer') ?? first}`
    case 'drive':
      return `The drive of ${named('drive') ?? first}`
    case 'film transport':
      return `Film carried through ${named('film') ?? first}`
    case 'air':
      return `Air in the ${named('cylinder') ?? first}`
    case 'measurement':
      return `The measurement at ${first}`
    case 'drift':
      return first
  }
}

function course({ frequency, damping, timeConstant, re }: Figures): string {
  const digits = (value: number) => formatNumber(value, 3)
  if (timeConstant === null && frequency === 0) return 'drifts: nothing brings it back.'
  if (frequency === 0) {
    return re > 0
      ? `grows without swinging: by a factor 2.7 every ${digits(1 / re)} s.`
      : `dies away without swinging: time constant ${digits(-1 / re)} s.`
  }
  const swings = `swings at ${digits(frequency)} Hz`
  if (timeConstant === null) return `${swings} and never dies away.`
  if (re > 0) return `${swings} and grows by a factor 2.7 every ${digits(1 / re)} s.`
  return `${swings}, damped to ${digits(100 * damping)} % of critical: down to a twentieth in ${digits(-3 / re)} s.`
}

/** Margins of loops as figures for people. */
import type { LoopAnswer } from '../../../tune/ask'
import type { Trouble } from '../../../tune/setup'
import { digits } from '../../charts/graph'

/** Degrees; what is commonly asked for at least (common practice, no source). */
export const usualPhaseMargin = 45
/** Factor; 6 dB (common practice, no source). */
export const usualGainMargin = 2

export type LoopResult = LoopAnswer | Trouble

const degrees = (radians: number) => (radians * 180) / Math.PI

/** Degrees; negative where the line does not settle, however its last crossing looks; NaN where there is no answer. */
export function phaseMarginOf(answer: LoopResult | undefined): number {
  if (!answer?.ok) return NaN
  const margin = answer.margins.phaseMargin === null ? 180 : degrees(answer.margins.phaseMargin.value)
  return answer.stable ? margin : -Math.abs(margin)
}

/** Factor by which the gain may rise; infinite where nothing limits it. */
export const gainMarginOf = (answer: LoopAnswer): number => answer.margins.gainMargin?.value ?? Infinity

export interface Row {
  readonly what: string
  readonly unit: string
  /** what is commonly asked for */
  readonly limit: string
  readonly text: (answer: LoopAnswer) => string
}

const hertz = (w: number) => digits(w / (2 * Math.PI))

export const rows: readonly Row[] = [
  { what: 'Settles', unit: '', limit: 'yes', text: ({ stable }) => (stable ? 'yes' : 'no') },
  {
    what: 'Phase margin',
    unit: '°',
    limit: `${usualPhaseMargin} or more`,
    text: (answer) => (answer.margins.phaseMargin ? digits(phaseMarginOf(answer)) : 'never passes 1'),
  },
  {
    what: 'where the loop gain passes 1',
    unit: 'Hz',
    limit: '',
    text: ({ margins }) => (margins.phaseMargin ? hertz(margins.phaseMargin.w) : '—'),
  },
  {
    what: 'Gain margin',
    unit: 'factor',
    limit: `${usualGainMargin} or more`,
    text: (answer) => (answer.margins.gainMargin ? digits(gainMarginOf(answer)) : 'no end to it'),
  },
  {
    what: 'where it would swing then',
    unit: 'Hz',
    limit: '',
    text: ({ margins }) => (margins.gainMargin ? hertz(margins.gainMargin.w) : '—'),
  },
  {
    what: 'Gain may fall to',
    unit: 'factor',
    limit: '0.5 or less',
    text: ({ margins }) => (margins.leastGain ? digits(margins.leastGain.value) : '0'),
  },
  {
    what: 'Further delay before it swings',
    unit: 'ms',
    limit: '',
    text: ({ margins }) => (margins.delayMargin === null ? '—' : digits(1000 * margins.delayMargin)),
  },
  {
    what: 'Least distance from −1',
    unit: '',
    limit: '0.5 or more',
    text: ({ margins }) => digits(margins.distance.value),
  },
]

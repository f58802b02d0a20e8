/** How a run ended, as a value: a broken limit is a verdict inside `finished`, never a failure. */
import type { Problem } from '../units'
import type { Summary } from './summary'

export interface Finished {
  readonly outcome: 'finished'
  readonly summary: Summary
}

/** The scenario cannot be run as it stands: which field, why, what would be right. */
export interface Refused {
  readonly outcome: 'refused'
  readonly problems: readonly Problem[]
}

/** The run broke off: when, at which state or part, and what to try. */
export interface Failed {
  readonly outcome: 'failed'
  readonly at: number
  readonly state: string
  readonly say: string
}

export interface Cancelled {
  readonly outcome: 'cancelled'
}

export type Outcome = Finished | Refused | Failed | Cancelled

/** The figures of a finished run: what `run --json` prints and the verdict table shows. SI throughout. */
import type { Extreme, Happening } from './record'

export interface SpanSummary {
  readonly name: string
  /** N: at the first and last instant, and the extremes of the continuous solution with their times */
  readonly tension: { start: number; end: number } & Extreme
  /** greatest strain over the elastic limit strain of the film that carried it */
  readonly limitShare: number
  readonly limitAt: number
  readonly slackSeconds: number
}

export interface DancerSummary {
  readonly name: string
  /** m */
  readonly start: number
  readonly end: number
  readonly min: number
  readonly max: number
  /** s */
  readonly atMin: number
  readonly atMax: number
  /** (max - min) / distance between the stops */
  readonly travelUsed: number
  readonly stopSeconds: number
  /** m, peak to peak over the last tenth of the run */
  readonly ripple: number
}

export interface RollerSummary {
  readonly name: string
  /** least (mu beta - |ln ratio|) / (mu beta); null at a nip, which is taken not to slip */
  readonly tractionMargin: number | null
  readonly at: number
}

export interface DriveSummary {
  readonly name: string
  /** N m, largest magnitude */
  readonly peakTorque: number
  /** s */
  readonly peakAt: number
  /** peak over the drive's torque limit; null without a limit */
  readonly limitShare: number | null
}

export interface FilmSummary {
  /** m of unstretched film */
  readonly unwound: number
  readonly wound: number
  readonly held: number
  readonly scrap: number
  /** unwound + held at the start - wound - held - scrap */
  readonly imbalance: number
}

export interface Summary {
  readonly title: string
  readonly spans: readonly SpanSummary[]
  readonly dancers: readonly DancerSummary[]
  readonly rollers: readonly RollerSummary[]
  readonly drives: readonly DriveSummary[]
  readonly film: FilmSummary
  readonly happenings: readonly Happening[]
  readonly solver: { steps: number; evaluations: number; events: number }
}

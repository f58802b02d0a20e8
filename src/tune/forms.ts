/**
 * A trim's gains in the forms in which controllers take them.
 *
 * Variables    -
 * Parameters   gain Kp, integral gain Ki, derivative time Td as the scenario states them; line speed v (m/s); span S of what is measured
 *              (travel between the stops, m, or the tension asked for, N)
 * Equations    parallel: Kp e + Ki int e + Kd de/dt, Kd = Kp Td
 *              ideal: Kp (e + (1/Ti) int e + Td de/dt), Ti = Kp/Ki; repeats a minute 60/Ti
 *              relative: output in % of line speed for each % of S: Kp S/v (kind speed), Kp S (kind ratio), Kp (kind torque, in % of the
 *              tension asked for on either side)
 * Neglected    the series form (it exists for some gains only)
 * Source       PID forms, textbook control; repeats a minute and percentages: common practice, no source
 */
import type { TensionTrimSpec } from '../line/tension-trim'
import type { TrimSpec } from '../line/trim'
import type { Kind } from '../units'

/** Everything that closes a loop. */
export type LoopSpec = TrimSpec | TensionTrimSpec

/** What the relative form refers to. */
export interface FormBase {
  /** m/s */
  readonly lineSpeed: number
  /** travel between the stops of the dancer (m), or the tension asked for (N) */
  readonly span: number
}

export interface ControllerForms {
  /** SI; `derivative` is Kd = Kp Td */
  readonly parallel: { readonly gain: number; readonly integral: number; readonly derivative: number }
  /** `integralTime` (s) is null without an integral part */
  readonly ideal: { readonly gain: number; readonly integralTime: number | null; readonly derivativeTime: number }
  /** of the proportional action by the integral part; 0 without one */
  readonly repeatsPerMinute: number
  /** % of line speed (kind torque: of the tension asked for) for each % of the span; null where line speed is 0 */
  readonly relativeGain: number | null
  /** what the relative gain is counted in, for people */
  readonly relativeUnit: string
  /** kinds of the parallel gains, to be shown with a unit */
  readonly kinds: { readonly gain: Kind; readonly integral: Kind }
}

/** The gains of a trim in all forms. */
export function formsOf(trim: LoopSpec, base: FormBase): ControllerForms {
  const { gain, integral } = trim
  const derivativeTime = trim.program?.derivativeTime ?? 0
  const over = relativeFactor(trim, base)
  return {
    parallel: { gain, integral, derivative: gain * derivativeTime },
    ideal: { gain, integralTime: integral > 0 ? gain / integral : null, derivativeTime },
    repeatsPerMinute: (60 * integral) / gain,
    relativeGain: over === null ? null : gain * over,
    relativeUnit: relativeUnit(trim),
    kinds: kindsOf(trim),
  }
}

function relativeFactor(trim: LoopSpec, { lineSpeed, span }: FormBase): number | null {
  if (trim.kind === 'torque') return 1
  if (trim.kind === 'ratio') return span
  return lineSpeed > 0 ? span / lineSpeed : null
}

function relativeUnit(trim: LoopSpec): string {
  if (trim.kind === 'torque') return '% of tension per % of tension'
  return trim.control === 'position trim' ? '% of line speed per % of travel' : '% of line speed per % of tension'
}

function kindsOf(trim: LoopSpec): ControllerForms['kinds'] {
  if (trim.kind === 'ratio') return { gain: 'trimGainRatio', integral: 'trimIntegralRatio' }
  if (trim.kind === 'torque') return { gain: 'fraction', integral: 'rate' }
  if (trim.control === 'tension trim') return { gain: 'speedPerForce', integral: 'speedPerForceTime' }
  return { gain: 'trimGainSpeed', integral: 'trimIntegralSpeed' }
}

/**
 * What a trim makes of what it measures, as a linear law: continuous, or sample by sample.
 *
 * Variables    measured value m, set point r, output u; as a program: filtered m_f, slope d, integral X, output held h, output waiting p
 * Parameters   sign and schedule factor s, gains Kp, Ki, sample T, filter share a, derivative time T_d and filter share b: program.ts
 * Equations    continuous: u = s (Kp + Ki/s') (m - r), s' the Laplace variable
 *              program, z = exp(j w T): F = a z/(z - 1 + a), D = b (z - 1)/(T (z - 1 + b)) F,
 *              u = s (Kp (F - r) + Kp T_d D + Ki T (F - r)/(z - 1)), z^-1 more where it takes a sample to compute
 *              held over a sample: (1 - exp(-s' T))/(s' T) before a continuous plant
 * Neglected    limit, dead band, resolution, jitter
 * Source       sampled control, textbook
 */
import type { Correction } from '../line/correction'
import type { ProgramSpec } from '../line/program'
import { lookUp } from '../line/table'
import { Complex } from './complex'

export interface Law {
  /** sign of the action, with the factor of a schedule */
  readonly strength: number
  readonly gain: number
  readonly integral: number
  readonly program: ProgramLaw | undefined
}

export interface ProgramLaw {
  readonly sample: number
  readonly filterShare: number
  readonly derivativeTime: number
  readonly derivativeShare: number
  readonly delayed: boolean
}

/** The law of a trim at a roll diameter (m). */
export function lawOf({ law, sign }: Pick<Correction, 'law' | 'sign'>, diameter: number): Law {
  const { program } = law
  const scheduled = program?.schedule === undefined ? 1 : lookUp(program.schedule, diameter)
  return {
    strength: sign * scheduled,
    gain: law.gain,
    integral: law.integral,
    program: program === undefined ? undefined : programLaw(program),
  }
}

function programLaw({ sample, filter, derivativeTime, derivativeFilter, delayed }: ProgramSpec): ProgramLaw {
  return {
    ...{ sample, derivativeTime, delayed },
    filterShare: filter > 0 ? 1 - Math.exp(-sample / filter) : 1,
    derivativeShare: derivativeFilter > 0 ? 1 - Math.exp(-sample / derivativeFilter) : 1,
  }
}

/** Law from measured value to output at frequency w (rad/s); a program without its hold. */
export function lawAt(law: Law, w: number): Complex {
  const { gain, integral, strength, program } = law
  if (program === undefined) return new Complex(strength * gain, (-strength * integral) / w)
  const { sample, filterShare: a, derivativeTime, derivativeShare: b, delayed } = program
  const z = Complex.turned(w * sample)
  const less = z.minus(1)
  const filtered = z.times(a).over(less.plus(a))
  const slope = less.times(b / sample).over(less.plus(b))
  const inner = slope.times(gain * derivativeTime).plus(gain)
  const whole = inner
    .add(new Complex(integral * sample, 0).over(less))
    .by(filtered)
    .times(strength)
  return delayed ? whole.over(z) : whole
}

/** Law from set point to output at frequency w (rad/s): the set point passes neither filter nor derivative. */
export function setPointLawAt(law: Law, w: number): Complex {
  const { gain, integral, strength, program } = law
  if (program === undefined) return new Complex(-strength * gain, (strength * integral) / w)
  const z = Complex.turned(w * program.sample)
  const whole = new Complex(integral * program.sample, 0).over(z.minus(1)).plus(gain).times(-strength)
  return program.delayed ? whole.over(z) : whole
}

/** What holding a sampled output costs at frequency w (rad/s); 1 without a program. */
export function holdAt({ program }: Law, w: number): Complex {
  if (program === undefined) return new Complex(1, 0)
  const half = (w * program.sample) / 2
  return Complex.turned(-half).times(half === 0 ? 1 : Math.sin(half) / half)
}

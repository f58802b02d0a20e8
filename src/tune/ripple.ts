/**
 * What a dancer that is led by the film costs in tension, force by force, against frequency.
 *
 * Variables    amplitude Z of the carriage (m) at w (rad/s); forces on the carriage as phasors against its position
 * Parameters   spring k, mass M, damping c, gas spring k_gas with regulator lag T, friction F_c, strands sum g_j
 * Equations    spring k Z;  gas k_gas j w T/(1 + j w T) Z;  mass -M w^2 Z;  damping j w c Z;  friction j (4/pi) F_c, the first harmonic of a
 *              square wave;  each strand their sum over sum g_j
 *              spring that cancels the mass at w: k = M w^2;  regulated cylinder: k_gas = (M w^2 - k) leaves |M w^2 - k|/sqrt(1 + (w T)^2)
 *              without damping, the least of all k_gas; with damping the least of |k_gas a + b|, a = j w T/(1 + j w T)
 *              beside these: the roller's inertia +-(J/R^2) a/4 with opposite signs in the two strands, a = w^2 Z sum g_j of the film that
 *              moves on one side alone (the roller's rim has half of it), its drag +-tau_c/(2 R)
 * Neglected    film gives way (it is far stiffer than the dancer); position is a sine; film that moves alike on both sides of the dancer,
 *              which leaves its roller at rest
 * Source       own derivation; first harmonic of friction: describing function, textbook
 */
import { gasSpring } from '../line/cylinder'
import type { Carriage } from '../line/carriage'
import type { Line } from '../line/line'
import { Complex } from './complex'

export interface RippleDancer {
  readonly mass: number
  readonly stiffness: number
  readonly damping: number
  readonly friction: number
  /** sum of the shares of its strands, 2 for a roller wrapped by half a turn */
  readonly strands: number
  /** N/m and s; 0 and Infinity without a cylinder */
  readonly gasStiffness: number
  readonly lag: number
  /** kg, J/R^2 of its roller, and N, drag over radius */
  readonly rollerMass: number
  readonly rollerDrag: number
}

/** N in each strand, against the carriage's position as the real axis. */
export interface Ripple {
  readonly spring: Complex
  readonly gas: Complex
  readonly mass: Complex
  readonly damping: Complex
  readonly friction: Complex
  readonly total: Complex
  /** N, that come on top in one strand and off in the other */
  readonly roller: { readonly inertia: number; readonly drag: number }
}

/** The dancer of a line in state y, as its ripple is counted from it. */
export function rippleDancerOf(line: Line, carriage: Carriage, y: readonly number[]): RippleDancer {
  const { mass, stiffness, damping, slidingFriction, lowerStop } = carriage.setup
  const { cylinder } = carriage
  const i = line.rollers.names.indexOf(carriage.name)
  const radius = i < 0 ? 1 : line.rollers.radius[i]
  return {
    ...{ mass, stiffness, damping, friction: slidingFriction, strands: carriage.strands.total() },
    gasStiffness:
      cylinder === undefined ? 0 : gasSpring(cylinder.spec, y[cylinder.state], y[carriage.state] - lowerStop),
    lag: cylinder === undefined ? Infinity : cylinder.spec.lag,
    rollerMass: i < 0 ? 0 : line.rollers.inertia[i] / (radius * radius),
    rollerDrag: i < 0 ? 0 : line.rollers.coulomb[i] / radius,
  }
}

/** Ripple at frequency w (rad/s) for an amplitude of the carriage (m). */
export function rippleAt(d: RippleDancer, w: number, amplitude: number): Ripple {
  const each = amplitude / d.strands
  const parts = {
    spring: new Complex(d.stiffness * each, 0),
    gas: regulated(w, d.lag).times(d.gasStiffness * each),
    mass: new Complex(-d.mass * w * w * each, 0),
    damping: new Complex(0, w * d.damping * each),
    friction: new Complex(0, amplitude > 0 && w > 0 ? ((4 / Math.PI) * d.friction) / d.strands : 0),
  }
  const total = Object.values(parts).reduce((sum, part) => sum.add(part))
  const inertia = (d.rollerMass * w * w * amplitude * d.strands) / 4
  return { ...parts, total, roller: { inertia, drag: d.rollerDrag / 2 } }
}

/** Share of the gas spring that fast motion feels: j w T/(1 + j w T); all of it where nothing regulates. */
function regulated(w: number, lag: number): Complex {
  if (!Number.isFinite(lag)) return new Complex(1, 0)
  const x = w * lag
  return new Complex(x * x, x).times(1 / (1 + x * x))
}

export interface Cancelling {
  /** N/m: spring that cancels the mass at this frequency */
  readonly spring: number
  /** N in each strand that are left with it: damping alone (friction comes on top) */
  readonly left: number
  /** N/m: best gas spring of a regulated cylinder beside the spring that is there, and N in each strand that it leaves */
  readonly gas: number
  readonly gasLeaves: number
  /** share of what the bare mass gives that the best regulated cylinder leaves */
  readonly gasShare: number
  readonly say: string
}

/** What would cancel the mass at frequency w (rad/s), and why a regulated cylinder cannot. `lag`: of the regulator, s. */
export function cancelling(d: RippleDancer, w: number, amplitude: number, lag: number): Cancelling {
  const each = amplitude / d.strands
  const a = regulated(w, lag)
  const b = new Complex(d.stiffness - d.mass * w * w, w * d.damping)
  const size = a.re * a.re + a.im * a.im
  const gas = size === 0 ? 0 : Math.max(0, -(a.re * b.re + a.im * b.im) / size)
  const gasLeaves = a.times(gas).add(b).size * each
  const bare = d.mass * w * w * each
  const gasShare = bare > 0 ? gasLeaves / bare : 1
  const hertz = (w / (2 * Math.PI)).toPrecision(3)
  const spring = d.mass * w * w
  return {
    ...{ spring, left: w * d.damping * each, gas, gasLeaves, gasShare },
    say:
      `At ${hertz} Hz a spring of ${spring.toPrecision(3)} N/m carries the mass. A regulated cylinder cannot: its regulator lets go of the ` +
      `pressure while the dancer moves, so that its force leads the position; at best it leaves ${(100 * gasShare).toPrecision(3)} % of what the bare mass gives.`,
  }
}

/**
 * What a dancer adds to tension while film makes it move to and fro, piece by piece.
 *
 * Variables    position z = Z cos(w t), w = 2 pi f; force on all strands together (N)
 * Parameters   moving mass M (kg), stiffness k (N/m), damping c (N s/m), dry friction F_c (N), gas spring k_g (N/m) behind a regulator of
 *              lag T (s), strands n = sum g_j, roller's inertia over its radius squared m_r (kg), drag torque over radius D (N)
 * Equations    all strands: Z |k + k_g j w T/(1 + j w T) - M w^2 + j w c|; friction adds F_c as a step at each turning point
 *              each strand: its share 1/n of that; its roller +- m_r n Z w^2/4 with opposite signs on its two sides; friction F_c/n; drag D/2
 *              a plain spring k = M w^2 cancels the mass at one frequency; the best regulated cylinder alone, k_g = M w^2, leaves
 *              1/sqrt(1 + (w T)^2) of what the bare mass gives
 * Neglected    stretch of the film: it is far stiffer than the dancer; change of the gas spring with position; wrap other than the strands
 * Source       own derivation; air behind a regulator: cylinder.ts
 */
import { gasSpring } from '../line/cylinder'
import { scenarioOf } from './ask'
import { standAt, type Point, type Trouble } from './setup'

export interface RippleParts {
  readonly ok: true
  readonly mass: number
  readonly stiffness: number
  readonly damping: number
  readonly friction: number
  readonly gasSpring: number
  /** s; 0 without a cylinder */
  readonly lag: number
  readonly strands: number
  readonly rollerMass: number
  readonly drag: number
  /** N, of one strand at rest */
  readonly tension: number
}

export interface RippleQuestion {
  readonly point: Point
  readonly dancer: string
}

/** N of all strands, amplitudes. */
export interface Ripple {
  readonly spring: number
  readonly gas: number
  readonly mass: number
  readonly damping: number
  readonly friction: number
  /** of all together, dry friction not counted */
  readonly total: number
  /** of one strand, roller, friction and drag counted: at most */
  readonly strand: number
}

/** What the pieces are made of, at one point of the line after another. */
export function askRipple(document: unknown): (question: RippleQuestion) => RippleParts | Trouble {
  const reading = scenarioOf(document)
  return ({ point, dancer }) => {
    if (!reading.ok) return reading
    const standing = standAt(reading.scenario, point)
    if (!standing.ok) return standing
    const { line, y } = standing
    const carriage = line.carriages.find(({ name }) => name === dancer)
    const spec = reading.scenario.line.find((part) => part.part === 'dancer' && part.name === dancer)
    if (carriage === undefined || spec?.part !== 'dancer') {
      return { ok: false, field: 'line', say: `The line has no dancer "${dancer}".` }
    }
    line.rates(0, y)
    const { setup, strands, cylinder, state } = carriage
    const radius = spec.diameter / 2
    const tensions = strands.spans.map((span) => line.spans.force[span])
    return {
      ok: true,
      mass: setup.mass,
      stiffness: setup.stiffness,
      damping: setup.damping,
      friction: setup.slidingFriction,
      gasSpring: cylinder === undefined ? 0 : gasSpring(cylinder.spec, y[cylinder.state], y[state] - setup.lowerStop),
      lag: cylinder?.spec.lag ?? 0,
      strands: strands.total(),
      rollerMass: spec.inertia / radius ** 2,
      drag: spec.drag / radius,
      tension: tensions.reduce((sum, tension) => sum + tension, 0) / Math.max(1, tensions.length),
    }
  }
}

/** The pieces at an amplitude (m) and a frequency (Hz). */
export function rippleAt(parts: Omit<RippleParts, 'ok' | 'tension'>, amplitude: number, frequency: number): Ripple {
  const { mass, stiffness, damping, friction, strands, rollerMass, drag } = parts
  const w = 2 * Math.PI * frequency
  const gas = gasAnswer(parts, w)
  const real = stiffness + gas.re - mass * w * w
  const imaginary = damping * w + gas.im
  const total = amplitude * Math.hypot(real, imaginary)
  const roller = (rollerMass * strands * amplitude * w * w) / 4
  return {
    spring: amplitude * stiffness,
    gas: amplitude * Math.hypot(gas.re, gas.im),
    mass: amplitude * mass * w * w,
    damping: amplitude * damping * w,
    friction,
    total,
    strand: (total + friction) / strands + roller + drag / 2,
  }
}

function gasAnswer({ gasSpring, lag }: Pick<RippleParts, 'gasSpring' | 'lag'>, w: number): { re: number; im: number } {
  const turn = w * lag
  const square = 1 + turn * turn
  return { re: (gasSpring * turn * turn) / square, im: (gasSpring * turn) / square }
}

export interface Cancelling {
  /** N/m, of a plain spring that takes the place of all there is of springs, where it cancels the mass */
  readonly stiffness: number
  /** share of the bare mass's ripple that the best gas spring behind this regulator leaves; null without a cylinder */
  readonly regulated: number | null
}

/** What would cancel the mass at a frequency (Hz). */
export function cancelling({ mass, lag }: Pick<RippleParts, 'mass' | 'lag'>, frequency: number): Cancelling {
  const w = 2 * Math.PI * frequency
  return { stiffness: mass * w * w, regulated: lag > 0 ? 1 / Math.hypot(1, w * lag) : null }
}

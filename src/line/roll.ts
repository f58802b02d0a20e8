/**
 * A roll of film on a core: radius and inertia from the film that lies on it, out of round if stated so.
 *
 * Variables    mean radius R (m), inertia J (kg m²), film moved since the roll was set s (m of unstretched film),
 *              roll angle phi (rad, state of an uneven roll), estimate R_est of a diameter calculator (m, state)
 * Parameters   radius at the start (m), core radius (m), core inertia (kg m²), lap thickness h_eff (m), mass per metre (kg/m),
 *              runout e (m), depth d (m) and arc alpha (rad) of a flat, filter time T (s) and least speed of the calculator
 * Equations    R^2 = R_start^2 +- h_eff s/pi;  J = J_start + (pi/2) (mass per metre/h_eff) (R^4 - R_start^4)
 *              J dw/dt = sum of torques: no dJ/dt term, the film that leaves takes its own angular momentum along
 *              lever arm of film: R + e cos(phi) - d (1 + cos(2 pi phi/alpha))/2 within alpha/2 of phi = 0
 *              calculator: dR_est/dt = (v/w - R_est)/T above its least speed, else held
 * Neglected    spiral of the lap (R is that of a whole lap), change of lap thickness with pressure, unbalanced mass
 * Source       geometry; roll built at constant turn rate: A. Downey, Modeling and Simulation in Python, chapter on rotation
 */
import * as v from 'valibot'
import type { Material } from '../film/film'
import { quantity } from '../units'
import type { Actor } from './part'
import type { Profile } from './profile'
import type { Rollers } from './rollers'

const unevenness = v.strictObject({
  runout: v.optional(
    quantity('travel', {
      meaning: 'Once a turn: how far the centre lies off the axis',
      usual: ['0 mm', '2 mm'],
      least: 0,
      most: 0.5,
    }),
    '0 mm',
  ),
  flat: v.optional(
    quantity('travel', {
      meaning: 'Depth of a flat, from lying or from being squeezed',
      usual: ['0 mm', '2 mm'],
      least: 0,
      most: 0.5,
    }),
    '0 mm',
  ),
  flatArc: v.optional(
    quantity('angle', {
      meaning: 'Arc over which the flat reaches',
      usual: ['10 deg', '60 deg'],
      above: 0,
      most: Math.PI,
    }),
    '30 deg',
  ),
})

const calculator = v.strictObject({
  time: quantity('time', {
    meaning: 'Filter time of the diameter calculator',
    usual: ['0.5 s', '10 s'],
    above: 0,
    most: 1000,
  }),
  above: v.optional(
    quantity('speed', {
      meaning: 'Line speed below which it holds',
      usual: ['1 m/min', '10 m/min'],
      least: 0,
      most: 50,
    }),
    '3 m/min',
  ),
})

export const layOnSchema = v.strictObject({
  load: quantity('force', { meaning: 'Load of the lay-on roller', usual: ['20 N', '300 N'], least: 0, most: 1e5 }),
  friction: v.optional(
    quantity('fraction', {
      meaning: 'Wound-on tension gained for each newton of load: near the kinetic friction of film on film',
      usual: ['10 %', '40 %'],
      least: 0,
      most: 2,
      illustrative: true,
    }),
    '20 %',
  ),
  saturation: v.optional(
    quantity('force', {
      meaning: 'Load beyond which more gains nothing',
      usual: ['50 N', '500 N'],
      least: 0,
      most: 1e6,
      illustrative: true,
    }),
    '200 N',
  ),
})
export type LayOn = v.InferOutput<typeof layOnSchema>

/** What a roll on the line may state beside its size. */
export const rollExtras = { unevenness: v.optional(unevenness), calculator: v.optional(calculator) }

export interface RollSpec {
  readonly diameter: number
  readonly core: number
  readonly coreInertia: number
  readonly unevenness?: v.InferOutput<typeof unevenness> | undefined
  readonly calculator?: v.InferOutput<typeof calculator> | undefined
}

export interface RollSetup {
  /** m, outer */
  readonly radius: number
  readonly coreRadius: number
  readonly coreInertia: number
  readonly material: Material
  readonly unevenness: RollSpec['unevenness']
  readonly calculator: RollSpec['calculator']
}

/** Radii and extras of a stated roll. */
export function rollSetup(spec: RollSpec): Omit<RollSetup, 'material'> {
  const { diameter, core, coreInertia, unevenness: uneven, calculator: finds } = spec
  return { radius: diameter / 2, coreRadius: core / 2, coreInertia, unevenness: uneven, calculator: finds }
}

/** State indices of a roll: film total, and those that only some rolls have. */
export interface RollStates {
  readonly moved: number
  readonly angle: number | undefined
  readonly estimate: number | undefined
}

/** Where an uneven roll starts: a quarter turn from its high point, at its mean radius. */
export const START_ANGLE = Math.PI / 2

export class Roll implements Actor {
  /** m, present mean radius */
  mean = 0
  private setup: RollSetup
  private startRadius = 0
  private startInertia = 0
  private startAt = 0
  private lap = 0
  private massFactor = 0

  /** @param sign -1 film leaves (unwind), 1 film comes (rewind) */
  constructor(
    readonly name: string,
    private readonly rollers: Rollers,
    private readonly index: number,
    private readonly sign: -1 | 1,
    setup: RollSetup,
    readonly states: RollStates,
    private readonly profile: Profile,
  ) {
    this.setup = setup
    this.setTo(setup, 0)
    this.write(0, START_ANGLE)
    rollers.estimate[index] = setup.radius
  }

  /** Another roll is put on, of which the drive believes the diameter `told` (m). */
  replace(setup: RollSetup, told: number, y: number[]): void {
    this.setTo(setup, y[this.states.moved])
    if (this.states.angle !== undefined) y[this.states.angle] = START_ANGLE
    if (this.states.estimate !== undefined) y[this.states.estimate] = told / 2
    this.place(0, y)
  }

  private setTo(setup: RollSetup, moved: number): void {
    this.setup = setup
    this.startRadius = setup.radius
    this.take(setup.material, moved)
    this.startInertia = setup.coreInertia + this.massFactor * (setup.radius ** 4 - setup.coreRadius ** 4)
  }

  /** From here on laps of another film come (or leave). */
  layerChanges(material: Material, y: readonly number[]): void {
    this.place(0, y)
    this.startRadius = this.mean
    this.startInertia = this.rollers.inertia[this.index]
    this.take(material, y[this.states.moved])
  }

  private take(material: Material, moved: number): void {
    this.startAt = moved
    this.lap = material.lapThickness
    this.massFactor = (Math.PI / 2) * (material.massPerLength / material.lapThickness)
  }

  private squaredRadius(moved: number): number {
    return this.startRadius * this.startRadius + (this.sign * this.lap * (moved - this.startAt)) / Math.PI
  }

  place(_t: number, y: readonly number[]): void {
    const { moved, angle, estimate } = this.states
    this.write(y[moved], angle === undefined ? START_ANGLE : y[angle])
    this.rollers.estimate[this.index] = estimate === undefined ? this.mean : y[estimate]
  }

  private write(moved: number, angle: number): void {
    const { index, rollers } = this
    const core = this.setup.coreRadius
    const squared = Math.max(this.squaredRadius(moved), core * core)
    const start = this.startRadius * this.startRadius
    this.mean = Math.sqrt(squared)
    rollers.radius[index] = this.mean + deviationOf(this.setup.unevenness, angle)
    rollers.inertia[index] = this.startInertia + this.massFactor * (squared * squared - start * start)
  }

  scale(scales: Float64Array): void {
    if (this.states.angle !== undefined) scales[this.states.angle] = 1e-2
    if (this.states.estimate !== undefined) scales[this.states.estimate] = 1e-2 * this.mean
  }

  act(t: number, y: readonly number[], dy: number[]): void {
    const { rollers, index, states } = this
    let growth = (this.sign * this.lap * rollers.flux[index]) / (2 * Math.PI * this.mean)
    if (states.angle !== undefined) dy[states.angle] = rollers.speed[index]
    if (states.estimate !== undefined) {
      const finds = this.setup.calculator
      const works = finds !== undefined && this.profile.value(t) > finds.above
      growth = works ? (rollers.radius[index] - y[states.estimate]) / finds.time : 0
      dy[states.estimate] = growth
    }
    rollers.estimateRate[index] = growth
  }

  /** Positive once the core is bare, m². */
  emptiness(moved: number): number {
    return this.setup.coreRadius * this.setup.coreRadius - this.squaredRadius(moved)
  }

  /** The setup of a roll that takes this one's place: its unevenness is its own, the calculator stays with the drive. */
  successor(spec: RollSpec, material: Material): RollSetup {
    return { ...rollSetup(spec), material, calculator: this.setup.calculator }
  }
}

/** How far the lever arm of a roll differs from its mean radius at a roll angle (rad), m. */
export function deviationOf(uneven: RollSpec['unevenness'], angle: number): number {
  if (uneven === undefined) return 0
  const { runout, flat, flatArc } = uneven
  const off = angle - 2 * Math.PI * Math.round(angle / (2 * Math.PI))
  const dent = Math.abs(off) < flatArc / 2 ? (flat * (1 + Math.cos((2 * Math.PI * off) / flatArc))) / 2 : 0
  return runout * Math.cos(angle) - dent
}

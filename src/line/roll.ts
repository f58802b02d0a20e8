/**
 * A roll of film on a core: radius and inertia from the film that lies on it.
 *
 * Variables    radius R (m), inertia J (kg m^2), film moved since the roll was set s (m of unstretched film)
 * Parameters   radius at the start (m), core radius (m), core inertia (kg m^2), lap thickness h_eff (m), mass per metre (kg/m)
 * Equations    R^2 = R_start^2 +- h_eff s/pi;  J = J_start + (pi/2) (mass per metre/h_eff) (R^4 - R_start^4)
 *              J dw/dt = sum of torques: no dJ/dt term, the film that leaves takes its own angular momentum along
 * Neglected    spiral of the lap (R is that of a whole lap), change of lap thickness with pressure, out of round
 * Source       geometry; roll built at constant turn rate: A. Downey, Modeling and Simulation in Python, chapter on rotation
 */
import type { Material } from '../film/film'
import type { Rollers } from './rollers'

export interface RollSetup {
  /** m, outer */
  readonly radius: number
  readonly coreRadius: number
  readonly coreInertia: number
  readonly material: Material
}

export class Roll {
  private readonly rollers: Rollers
  private readonly index: number
  /** -1 film leaves (unwind), 1 film comes (rewind) */
  private readonly sign: number
  coreRadius = 0
  private startRadius = 0
  private startInertia = 0
  private startAt = 0
  private lap = 0
  private massFactor = 0

  constructor(rollers: Rollers, index: number, sign: -1 | 1, setup: RollSetup) {
    this.rollers = rollers
    this.index = index
    this.sign = sign
    this.replace(setup, 0)
  }

  /** Another roll is put on while the film total stands at `moved` (m). */
  replace(setup: RollSetup, moved: number): void {
    this.coreRadius = setup.coreRadius
    this.startRadius = setup.radius
    this.take(setup.material, moved)
    this.startInertia = setup.coreInertia + this.massFactor * (setup.radius ** 4 - setup.coreRadius ** 4)
    this.place(moved)
  }

  /** From here on laps of another film come (or leave). */
  layerChanges(material: Material, moved: number): void {
    this.place(moved)
    this.startRadius = this.rollers.radius[this.index]
    this.startInertia = this.rollers.inertia[this.index]
    this.take(material, moved)
  }

  private take(material: Material, moved: number): void {
    this.startAt = moved
    this.lap = material.lapThickness
    this.massFactor = (Math.PI / 2) * (material.massPerLength / material.lapThickness)
  }

  private squaredRadius(moved: number): number {
    return this.startRadius * this.startRadius + (this.sign * this.lap * (moved - this.startAt)) / Math.PI
  }

  /** Writes the present radius and inertia for the film total `moved` (m). */
  place(moved: number): void {
    const squared = Math.max(this.squaredRadius(moved), this.coreRadius * this.coreRadius)
    const start = this.startRadius * this.startRadius
    this.rollers.radius[this.index] = Math.sqrt(squared)
    this.rollers.inertia[this.index] = this.startInertia + this.massFactor * (squared * squared - start * start)
  }

  /** Writes dR/dt from the present flux. */
  grow(): void {
    const { rollers, index } = this
    rollers.radiusRate[index] = (this.sign * this.lap * rollers.flux[index]) / (2 * Math.PI * rollers.radius[index])
  }

  /** Positive once the core is bare, m^2. */
  emptiness(moved: number): number {
    return this.coreRadius * this.coreRadius - this.squaredRadius(moved)
  }
}

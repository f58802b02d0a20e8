/**
 * The moving carriage of a dancer.
 *
 * Variables    position z (m, positive = more film stored), speed z' (m/s)
 * Parameters   share g_j and length of the strands: strands.ts; P from an air cylinder: cylinder.ts; moving mass M (kg, its rollers included), damping c (N s/m), spring stiffness k (N/m) with rest position z_ref (m),
 *              force P (N, acts towards storing film; excludes spring and weight), gravity g_z along +z (m/s²),
 *              sliding friction F_c and breakaway F_s >= F_c (N), stops z_min, z_max (m)
 * Equations    M z'' = P - sum_j g_j F_j - c z' - k (z - z_ref) + M g_z - F_c sign(z')
 *              at rest it sticks while the other forces stay within F_s; a stop takes all speed and lets go when the net
 *              force points away from it
 * Neglected    tilt, rebound at the stops; P keeps its direction along the motion of a swing arm; one whose motion is level where
 *              it is drawn is taken to be balanced: turned, it still feels no gravity
 * Source       Newton; Coulomb friction
 */
import { restOrGo } from './rollers'
import type { Actor, Guard, Notice } from './part'
import type { Courses } from './courses'
import { pressureFor, type Cylinder, type CylinderSpec } from './cylinder'
import type { Profile } from './profile'
import type { Spans } from './spans'
import { Strands } from './strands'

export interface CarriageSetup {
  readonly name: string
  readonly place: number
  readonly mass: number
  readonly stiffness: number
  readonly springZero: number
  readonly damping: number
  readonly slidingFriction: number
  /** N, at rest; left out, that of sliding */
  readonly frictionAtRest?: number | undefined
  /** N; a cylinder takes its place */
  readonly force?: number | undefined
  readonly cylinder?: CylinderSpec | undefined
  /** m, arm of a swing arm */
  readonly arm?: number | undefined
  /** m/s² along +z */
  readonly gravity: number
  readonly lowerStop: number
  readonly upperStop: number
  readonly setPoint: number
}

export type CarriageState = 'lower stop' | 'upper stop' | 'stuck' | 'free'

export class Carriage implements Actor {
  readonly name: string
  readonly setup: CarriageSetup
  /** state index of z; z' follows */
  readonly state: number
  readonly strands: Strands
  readonly cylinder: Cylinder | undefined
  /** N, friction at rest */
  readonly breakaway: number
  private readonly film: Spans
  on: CarriageState = 'free'
  /** sign of sliding friction while free: -1, 0 or 1 */
  sliding = 0
  /** N, m, m/s at the present instant: the stage may lead them, a taper may set the force */
  force: number
  setPoint: number
  setPointRate = 0
  readonly guards: readonly Guard[]
  private readonly forceCourse: Profile
  private readonly setPointCourse: Profile

  /** @param state index of z, z' follows; @param cylinder made with the same state, where there is one */
  constructor(setup: CarriageSetup, state: number, film: Spans, courses: Courses, cylinder?: Cylinder) {
    this.name = setup.name
    this.setup = setup
    this.state = state
    this.film = film
    this.strands = new Strands(setup.arm)
    this.cylinder = cylinder
    this.breakaway = setup.frictionAtRest ?? setup.slidingFriction
    this.force = setup.force ?? 0
    this.setPoint = setup.setPoint
    this.forceCourse = courses.setting('dancer force', setup.name, this.force)
    this.setPointCourse = courses.setting('set point', setup.name, setup.setPoint)
    this.guards = [this.stopGuard(), this.frictionGuard()]
  }

  place(t: number, y: readonly number[]): void {
    this.force = this.cylinder === undefined ? this.forceCourse.value(t) : this.cylinder.force(y)
    this.setPoint = this.setPointCourse.value(t)
    this.setPointRate = this.setPointCourse.rate(t)
    const { strands, film, state } = this
    strands.place(y[state])
    for (let k = 0; k < strands.spans.length; k++) {
      const j = strands.spans[k]
      film.length[j] = film.restLength[j] + strands.longer[k]
      film.lengthRate[j] = strands.shares[k] * y[state + 1]
    }
  }

  /** Asks for a force, as a taper does: of the cylinder's regulator, or at once. */
  ask(force: number): void {
    if (this.cylinder === undefined) this.force = force
    else this.cylinder.asked = pressureFor(this.cylinder.spec, force)
  }

  scale(scales: Float64Array, speed: number): void {
    scales[this.state] = 1e-3
    scales[this.state + 1] = 0.1 * speed
  }

  act(_t: number, y: readonly number[], dy: number[]): void {
    const held = this.on !== 'free'
    dy[this.state] = held ? 0 : y[this.state + 1]
    dy[this.state + 1] = held ? 0 : (this.netForce(y) - this.setup.slidingFriction * this.sliding) / this.setup.mass
  }

  /** Pull of all its strands, N. */
  strandPull(): number {
    let pull = 0
    const { spans, shares } = this.strands
    for (let k = 0; k < spans.length; k++) pull += shares[k] * this.film.force[spans[k]]
    return pull
  }

  /** Everything that pushes towards +z but dry friction and a stop, N. */
  netForce(y: readonly number[]): number {
    const s = this.setup
    return this.drivingForce(y[this.state]) - this.strandPull() - s.damping * y[this.state + 1]
  }

  /** Force, weight and spring at position z, N: what the strands hold in balance at rest. */
  drivingForce(z: number): number {
    const s = this.setup
    return this.force + s.mass * this.gravity(z) - s.stiffness * (z - s.springZero)
  }

  /** Weight along the motion in state y, N. */
  weight(y: readonly number[]): number {
    return this.setup.mass * this.gravity(y[this.state])
  }

  /** Gravity along the motion at position z, m/s^2: on a swing arm it turns with the arm. */
  private gravity(z: number): number {
    const { gravity, arm } = this.setup
    return arm === undefined ? gravity : gravity * Math.cos(z / arm)
  }

  storedPower(y: readonly number[], dy: readonly number[]): number {
    const speed = y[this.state + 1]
    const { mass, stiffness, springZero } = this.setup
    return mass * speed * dy[this.state + 1] + stiffness * (y[this.state] - springZero) * speed
  }

  suppliedPower(y: readonly number[]): number {
    const speed = y[this.state + 1]
    const { damping, slidingFriction } = this.setup
    return (this.force + this.weight(y) - damping * speed - slidingFriction * this.sliding) * speed
  }

  private stopGuard(): Guard {
    const { name, lowerStop, upperStop } = this.setup
    return {
      name,
      value: (_t, y) => {
        if (this.on === 'lower stop') return this.netForce(y) - this.breakaway
        if (this.on === 'upper stop') return -this.netForce(y) - this.breakaway
        return Math.max(lowerStop - y[this.state], y[this.state] - upperStop)
      },
      cross: (_t, y) => this.crossStop(y),
    }
  }

  private crossStop(y: number[]): Notice {
    const { name, lowerStop, upperStop } = this.setup
    if (this.on === 'lower stop' || this.on === 'upper stop') {
      const left = this.on
      this.on = 'free'
      this.sliding = left === 'lower stop' ? 1 : -1
      return { what: 'stop left', say: `${name} leaves its ${left}.` }
    }
    const upper = y[this.state] > upperStop
    y[this.state] = upper ? upperStop : lowerStop
    y[this.state + 1] = 0
    this.on = upper ? 'upper stop' : 'lower stop'
    this.sliding = 0
    return { what: 'stop touched', say: `${name} runs onto its ${this.on}.` }
  }

  private frictionGuard(): Guard {
    const { breakaway } = this
    return {
      name: this.name,
      value: (_t, y) => {
        if (breakaway === 0) return -1
        if (this.on === 'stuck') return Math.abs(this.netForce(y)) - breakaway
        return this.on === 'free' ? -y[this.state + 1] * this.sliding : -1
      },
      cross: (_t, y) => {
        y[this.state + 1] = 0
        const before = this.on
        this.sliding = restOrGo(this.netForce(y), breakaway)
        this.on = this.sliding === 0 ? 'stuck' : 'free'
        if (this.on === 'stuck') return { what: 'sticks', say: `${this.name} sticks.` }
        return before === 'stuck' ? { what: 'turns', say: `${this.name} lets go.` } : undefined
      },
    }
  }
}

/**
 * The moving carriage of a dancer.
 *
 * Variables    position z (m, positive = more film stored), speed z' (m/s)
 * Parameters   moving mass M (kg, its rollers included), damping c (N s/m), spring stiffness k (N/m) with rest position z_ref (m),
 *              force P (N, acts towards storing film; excludes spring and weight), gravity g_z along +z (m/s^2),
 *              sliding friction F_c (N), stops z_min, z_max (m), share g_j = dL_j/dz of every span that it lengthens
 * Equations    M z'' = P - sum_j g_j F_j - c z' - k (z - z_ref) + M g_z - F_c sign(z')
 *              at rest it sticks while the other forces stay within F_c; a stop takes all speed and lets go when the net
 *              force points away from it
 * Neglected    change of g_j with position (parallel strands), tilt, rebound at the stops
 * Source       Newton; Coulomb friction
 */
import { restOrGo } from './rollers'
import type { Actor, Guard, Notice } from './part'
import type { Courses } from './courses'
import type { Profile } from './profile'
import type { Spans } from './spans'

export interface CarriageSetup {
  readonly name: string
  readonly place: number
  readonly mass: number
  readonly stiffness: number
  readonly springZero: number
  readonly damping: number
  readonly slidingFriction: number
  readonly force: number
  /** m/s^2 along +z */
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
  readonly spans: number[] = []
  readonly shares: number[] = []
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

  constructor(setup: CarriageSetup, state: number, film: Spans, courses: Courses) {
    this.name = setup.name
    this.setup = setup
    this.state = state
    this.film = film
    this.force = setup.force
    this.setPoint = setup.setPoint
    this.forceCourse = courses.setting('dancer force', setup.name, setup.force)
    this.setPointCourse = courses.setting('set point', setup.name, setup.setPoint)
    this.guards = [this.stopGuard(), this.frictionGuard()]
  }

  /** One of its rollers lies between spans `upstream` and `upstream + 1`, lengthening each by `share` per metre. */
  carry(upstream: number, share: number): void {
    for (const j of [upstream, upstream + 1]) {
      const k = this.spans.indexOf(j)
      if (k >= 0) this.shares[k] += share
      else {
        this.spans.push(j)
        this.shares.push(share)
      }
    }
  }

  place(t: number, y: readonly number[]): void {
    this.force = this.forceCourse.value(t)
    this.setPoint = this.setPointCourse.value(t)
    this.setPointRate = this.setPointCourse.rate(t)
    const { spans, shares, film, state } = this
    for (let k = 0; k < spans.length; k++) {
      const j = spans[k]
      film.length[j] = film.restLength[j] + shares[k] * y[state]
      film.lengthRate[j] = shares[k] * y[state + 1]
    }
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
    for (let k = 0; k < this.spans.length; k++) pull += this.shares[k] * this.film.force[this.spans[k]]
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
    return this.force + s.mass * s.gravity - s.stiffness * (z - s.springZero)
  }

  storedPower(y: readonly number[], dy: readonly number[]): number {
    const speed = y[this.state + 1]
    const { mass, stiffness, springZero } = this.setup
    return mass * speed * dy[this.state + 1] + stiffness * (y[this.state] - springZero) * speed
  }

  suppliedPower(y: readonly number[]): number {
    const speed = y[this.state + 1]
    const { mass, gravity, damping, slidingFriction } = this.setup
    return (this.force + mass * gravity - damping * speed - slidingFriction * this.sliding) * speed
  }

  private stopGuard(): Guard {
    const { name, lowerStop, upperStop, slidingFriction } = this.setup
    return {
      name,
      value: (_t, y) => {
        if (this.on === 'lower stop') return this.netForce(y) - slidingFriction
        if (this.on === 'upper stop') return -this.netForce(y) - slidingFriction
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
    const friction = this.setup.slidingFriction
    return {
      name: this.name,
      value: (_t, y) => {
        if (friction === 0) return -1
        if (this.on === 'stuck') return Math.abs(this.netForce(y)) - friction
        return this.on === 'free' ? -y[this.state + 1] * this.sliding : -1
      },
      cross: (_t, y) => {
        y[this.state + 1] = 0
        this.sliding = restOrGo(this.netForce(y), friction)
        this.on = this.sliding === 0 ? 'stuck' : 'free'
        return undefined
      },
    }
  }
}

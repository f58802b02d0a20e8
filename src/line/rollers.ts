/**
 * Every roller that the film turns or is turned by, side by side in arrays: the shared mechanics of idlers, driven rollers,
 * dancer rollers, unwind and rewind.
 *
 * Variables    surface turn rate w (rad/s), flux q (m/s of unstretched film), motor torque (N m, forward positive)
 * Parameters   radius R (m, as it feeds), inertia J (kg m²), sliding drag tau_c (N m), breakaway tau_s (N m),
 *              viscous drag b (N m s), wrap beta (rad), friction mu (1)
 * Equations    J dw/dt = R (F_downstream - F_upstream) - tau_c sign(w) - b w + motor
 *              at |w| = 0 it sticks while |R (F_downstream - F_upstream) + motor| <= tau_s, else it turns that way
 *              traction margin (mu beta - |ln(F_downstream/F_upstream)|)/(mu beta)
 * Neglected    slip (the margin is reported, film and surface move as one), film bending, momentum flux of the film
 *              (0.5 % of tension at 5 m/s)
 * Source       Newton; Coulomb friction; Euler-Eytelwein for the margin (textbook)
 */
import type { Guard } from './part'

/** What a part states of its roller. SI. */
export interface RollerSetup {
  readonly name: string
  /** index of the part in the scenario's line */
  readonly place: number
  readonly radius: number
  /** m, what its drive takes for the radius; left out, it knows */
  readonly estimate?: number
  readonly inertia: number
  readonly drag: number
  /** N m; left out, that of sliding drag */
  readonly breakaway?: number | undefined
  readonly viscousDrag: number
  readonly wrap: number
  readonly friction: number
  readonly nip: boolean
  /** A roller whose speed is prescribed has no state of its own. */
  readonly prescribed: boolean
}

export class Rollers {
  readonly count: number
  readonly names: readonly string[]
  readonly places: readonly number[]
  readonly nip: readonly boolean[]
  readonly radius: Float64Array
  /** what a drive takes for the radius, m, and how that changes, m/s */
  readonly estimate: Float64Array
  readonly estimateRate: Float64Array
  readonly inertia: Float64Array
  readonly coulomb: Float64Array
  readonly breakaway: Float64Array
  readonly viscous: Float64Array
  readonly wrap: Float64Array
  readonly friction: Float64Array
  readonly speed: Float64Array
  readonly flux: Float64Array
  readonly motor: Float64Array
  readonly acceleration: Float64Array
  /** index of w in the state vector, -1 when the speed is prescribed */
  readonly state: Int32Array
  /** 1 when a drive imposes the acceleration and the motor torque follows from it */
  readonly imposed: Uint8Array
  /** -1 turns backward, 0 stuck, 1 turns forward; the sign of sliding drag */
  readonly mode: Int8Array
  /** stretch of the tape that lies on each roller */
  readonly material: Int32Array

  constructor(setups: readonly RollerSetup[], firstState: number) {
    const n = (this.count = setups.length)
    this.names = setups.map((r) => r.name)
    this.places = setups.map((r) => r.place)
    this.nip = setups.map((r) => r.nip)
    this.radius = Float64Array.from(setups, (r) => r.radius)
    this.estimate = Float64Array.from(setups, (r) => r.estimate ?? r.radius)
    this.estimateRate = new Float64Array(n)
    this.inertia = Float64Array.from(setups, (r) => r.inertia)
    this.coulomb = Float64Array.from(setups, (r) => r.drag)
    this.breakaway = Float64Array.from(setups, (r) => r.breakaway ?? r.drag)
    this.viscous = Float64Array.from(setups, (r) => r.viscousDrag)
    this.wrap = Float64Array.from(setups, (r) => r.wrap)
    this.friction = Float64Array.from(setups, (r) => r.friction)
    this.speed = new Float64Array(n)
    this.flux = new Float64Array(n)
    this.motor = new Float64Array(n)
    this.acceleration = new Float64Array(n)
    let next = firstState
    this.state = Int32Array.from(setups, (r) => (r.prescribed ? -1 : next++))
    this.imposed = Uint8Array.from(setups, (r) => (r.prescribed ? 1 : 0))
    this.mode = new Int8Array(n).fill(1)
    this.material = new Int32Array(n)
  }

  /** Takes the turn rates out of the state vector; prescribed ones are written by their drive. */
  read(y: readonly number[]): void {
    const { count, state, speed } = this
    for (let i = 0; i < count; i++) {
      const k = state[i]
      if (k >= 0) speed[i] = y[k]
    }
  }

  /** Torque of the film on roller i, N m. */
  filmTorque(i: number, force: Float64Array): number {
    const downstream = i < this.count - 1 ? force[i] : 0
    const upstream = i > 0 ? force[i - 1] : 0
    return this.radius[i] * (downstream - upstream)
  }

  /** Writes dw/dt of every roller with a state; where a drive imposes the motion, the torque that it takes. */
  rates(force: Float64Array, dy: number[]): void {
    const { count, state, imposed, mode, speed, motor, inertia, acceleration, coulomb, viscous } = this
    for (let i = 0; i < count; i++) {
      const film = this.filmTorque(i, force)
      const drag = coulomb[i] * mode[i] + viscous[i] * speed[i]
      if (imposed[i] === 1) motor[i] = inertia[i] * acceleration[i] - film + drag
      else acceleration[i] = mode[i] === 0 ? 0 : (film + motor[i] - drag) / inertia[i]
      const k = state[i]
      if (k >= 0) dy[k] = acceleration[i]
    }
  }

  /** Power lost to drag, W. */
  dragPower(i: number): number {
    return (this.coulomb[i] * this.mode[i] + this.viscous[i] * this.speed[i]) * this.speed[i]
  }

  /**
   * (mu beta - ln ratio)/(mu beta) for a ratio of high over low tension on roller i: 1 with equal tensions, 0 at the point of
   * slipping, negative beyond, never below -1 (one slack side makes the ratio infinite). 1 where nothing is wrapped.
   */
  tractionMargin(i: number, ratio: number): number {
    if (this.wrap[i] === 0) return 1
    return Math.max(-1, 1 - Math.log(ratio) / (this.friction[i] * this.wrap[i]))
  }

  /** Sticking and letting go of roller i. */
  stickGuard(i: number, force: Float64Array): Guard {
    return {
      name: this.names[i],
      value: () => {
        if (this.breakaway[i] === 0) return -1
        if (this.imposed[i] === 1 && this.mode[i] === 0) return Math.abs(this.speed[i])
        if (this.mode[i] !== 0) return -this.speed[i] * this.mode[i]
        return Math.abs(this.filmTorque(i, force) + this.motor[i]) - this.breakaway[i]
      },
      cross: (_t, y) => {
        const k = this.state[i]
        if (this.imposed[i] === 1) {
          this.mode[i] = Math.sign(this.speed[i])
          return undefined
        }
        const net = this.filmTorque(i, force) + this.motor[i]
        const before = this.mode[i]
        this.mode[i] = restOrGo(net, this.breakaway[i])
        y[k] = 0
        if (this.mode[i] === 0) return { what: 'sticks', say: `${this.names[i]} comes to rest.` }
        return before === 0 ? { what: 'turns', say: `${this.names[i]} starts to turn.` } : undefined
      },
    }
  }
}

/** Where dry friction lets a body go that has just come to rest: 0 while `net` is within `breakaway`, else the sign of `net`. */
export function restOrGo(net: number, breakaway: number): -1 | 0 | 1 {
  return Math.abs(net) <= breakaway ? 0 : net > 0 ? 1 : -1
}

/**
 * How the line's rates and tensions answer to small changes about one state: of its states, and of what acts on it.
 *
 * Variables    x: states, each in the size of a change that matters; u: inputs
 * Equations    d/dx and d/du of the simulator's own rates by central differences; where a profile leads, also d/d(du/dt)
 * Neglected    curvature over the step, 1e-4 of each size
 * Source       numerical differentiation, textbook
 */
import type { Correction } from '../line/correction'
import type { Line } from '../line/line'
import type { Profile } from '../line/profile'
import { TorqueDrive } from '../line/torque-drive'
import type { Kind } from '../units'
import type { Square } from './dense'
import { RUNOUT } from './setup'
import { nameOf, type StateInfo } from './states'

/** Something that acts on the line. */
export interface Input {
  /** for instance `draw/print nip` */
  readonly key: string
  readonly name: string
  readonly part: string
  readonly kind: Kind
  /** what one unit (SI) does to dx/dt and to the outputs, and what its rate of change does to dx/dt */
  readonly b: Float64Array
  readonly bRate: Float64Array
  readonly d: Float64Array
}

const STEP = 1e-4

/** Takes central differences of the line's rates and tensions about one state. */
export class Differences {
  readonly scales: Float64Array
  private readonly ahead: Float64Array
  private readonly behind: Float64Array
  private readonly rows: number

  constructor(
    private readonly line: Line,
    private readonly y: number[],
    private readonly moving: readonly StateInfo[],
  ) {
    const all = line.scales()
    this.scales = Float64Array.from(moving, (s) => all[s.index])
    this.rows = moving.length + line.spans.count
    this.ahead = new Float64Array(this.rows)
    this.behind = new Float64Array(this.rows)
  }

  private see(into: Float64Array): void {
    const { line, moving, scales } = this
    const dy = line.rates(0, this.y)
    for (let i = 0; i < moving.length; i++) into[i] = dy[moving[i].index] / scales[i]
    into.set(line.spans.force, moving.length)
  }

  /** Difference quotient of `set(step)` and `set(-step)`; `set(0)` puts everything back. */
  private quotient(set: (value: number) => void, step: number): Float64Array {
    set(step)
    this.see(this.ahead)
    set(-step)
    this.see(this.behind)
    set(0)
    return this.ahead.map((value, k) => (value - this.behind[k]) / (2 * step))
  }

  states(): { a: Square; c: Float64Array[] } {
    const { moving, scales, y } = this
    const n = moving.length
    const a = new Float64Array(n * n)
    const c = Array.from({ length: this.line.spans.count }, () => new Float64Array(n))
    moving.forEach(({ index }, k) => {
      const here = y[index]
      const column = this.quotient((value) => (y[index] = here + value * scales[k]), STEP)
      for (let i = 0; i < n; i++) a[i * n + k] = column[i]
      for (let j = 0; j < c.length; j++) c[j][k] = column[n + j]
    })
    return { a, c }
  }

  private input(key: string, name: string, part: string, kind: Kind, direct: Float64Array, rate?: Float64Array): Input {
    const n = this.moving.length
    const outputs = this.line.spans.count + this.line.carriages.length
    const d = new Float64Array(outputs)
    d.set(direct.subarray(n))
    const bRate = rate === undefined ? new Float64Array(n) : rate.slice(0, n)
    return { key, name, part, kind, b: direct.slice(0, n), d, bRate }
  }

  trim(correction: Correction): Input {
    const { output, law } = correction
    const step = STEP * law.limit
    const column = this.quotient((value) => (correction.output = output + value), step)
    return this.input(`trim/${law.drives}`, `output of the ${nameOf(correction)}`, law.drives, 'fraction', column)
  }

  inputs(): Input[] {
    return [
      ...this.speeds(),
      ...this.draws(),
      ...this.radii(),
      ...this.forces(),
      ...this.pressures(),
      ...this.windings(),
    ]
  }

  /** A speed or a setting that a profile leads, as an input with its rate of change. */
  private led(key: string, name: string, part: string, kind: Kind, profiles: readonly Profile[], step: number): Input {
    const start = profiles.map((p) => p.speedAt(0))
    const set = (v: number, a: number) => {
      profiles.forEach((p, k) => {
        p.add({ at: 0, v: start[k] + v, a, jerk: 0 })
        p.enter(0)
      })
    }
    const direct = this.quotient((v) => set(v, 0), step)
    const rate = this.quotient((a) => set(0, a), step)
    set(0, 0)
    return this.input(key, name, part, kind, direct, rate)
  }

  private speeds(): Input[] {
    const { line } = this
    const { courses, rollers } = line
    const feeds = line.spec.line.flatMap((p) => (p.part === 'driven' && p.index !== undefined ? [p] : []))
    const profiles = feeds.map((p) => line.drives.find((d) => d.name === p.name)?.reference?.profile)
    const fed = profiles.filter((p) => p !== undefined)
    const step = STEP * Math.max(line.spec.speed.start, 0.1)
    const unwind = rollers.names[0]
    return [
      this.led('speed', 'line speed', '', 'speed', [courses.line, courses.unwind, ...fed], step),
      this.led('speed/downstream', 'speed of all but the unwind', '', 'speed', [courses.line, ...fed], step),
      this.led(`speed/${unwind}`, `speed of ${unwind}`, unwind, 'speed', [courses.unwind], step),
      ...feeds.flatMap(({ name }, k) => {
        const profile = profiles[k]
        return profile === undefined
          ? []
          : [this.led(`feed/${name}`, `feed of ${name}`, name, 'speed', [profile], step)]
      }),
    ]
  }

  private draws(): Input[] {
    return this.line.drives.flatMap(({ name, reference }) =>
      reference === undefined
        ? []
        : [this.led(`draw/${name}`, `draw of ${name}`, name, 'fraction', [reference.draw], 1e-5)],
    )
  }

  /** Radius at which film leaves or meets a roll, its drive not being told: an uneven roll. */
  private radii(): Input[] {
    const { line, y } = this
    return [line.unwindRoll, line.rewindRoll].flatMap((roll) => {
      const { angle } = roll.states
      if (angle === undefined) return []
      const here = y[angle]
      const set = (radius: number) => (y[angle] = here - radius / RUNOUT)
      return [
        this.input(
          `radius/${roll.name}`,
          `radius of ${roll.name}`,
          roll.name,
          'travel',
          this.quotient(set, STEP * RUNOUT),
        ),
      ]
    })
  }

  private forces(): Input[] {
    return this.line.carriages.map(({ name, state, setup }) => {
      const k = this.moving.findIndex((s) => s.index === state + 1)
      const column = new Float64Array(this.rows)
      column[k] = 1 / (setup.mass * this.scales[k])
      return this.input(`force/${name}`, `force of ${name}`, name, 'force', column)
    })
  }

  /** Set pressure of a cylinder's regulator. */
  private pressures(): Input[] {
    return this.line.carriages.flatMap(({ name, cylinder }) => {
      if (cylinder === undefined) return []
      const k = this.moving.findIndex((s) => s.index === cylinder.state)
      const column = new Float64Array(this.rows)
      column[k] = 1 / (cylinder.spec.lag * this.scales[k])
      return [this.input(`pressure/${name}`, `set pressure of ${name}`, name, 'pressure', column)]
    })
  }

  /** Tension asked for of a torque drive. */
  private windings(): Input[] {
    const { rollers, drives } = this.line
    return drives.flatMap((drive) => {
      if (!(drive instanceof TorqueDrive)) return []
      const { name, roller } = drive
      const k = this.moving.findIndex((s) => s.index === rollers.state[roller])
      const column = new Float64Array(this.rows)
      const pull = roller === 0 ? -1 : 1
      column[k] = (pull * rollers.estimate[roller]) / (rollers.inertia[roller] * this.scales[k])
      return [this.input(`winding/${name}`, `tension asked of ${name}`, name, 'force', column)]
    })
  }
}

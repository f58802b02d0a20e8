/**
 * The line linearised about its steady state, all its trims opened: what goes in, what comes out.
 *
 * Variables    x: states off their steady value, each in the size of a change that matters; u: inputs; F, z: outputs
 * Equations    dx/dt = A x + B u + B' du/dt,  outputs = C x + D u, by central differences of the simulator's own rates;
 *              B' stems from torque drives that are told the acceleration of the line, which no tension feels at once
 * Neglected    dry friction of dancers (left out); Coulomb drag of rollers stands at its running sign; film totals, roll angles and
 *              with them the radii stand still; slack, stops, limits of trims
 * Source       numerical differentiation, textbook
 */
import type { Correction } from '../line/correction'
import { TorqueDrive } from '../line/torque-drive'
import type { Line } from '../line/line'
import type { Profile } from '../line/profile'
import { TensionTrim } from '../line/tension-trim'
import type { Kind } from '../units'
import type { Square } from './dense'
import { lawOf, type Law } from './law'
import { RUNOUT, type Standing } from './setup'
import { nameOf, statesOf, type StateInfo } from './states'

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

export interface Output {
  /** for instance `tension/print nip → idler 4` or `dancer/infeed dancer` */
  readonly key: string
  readonly name: string
  readonly kind: Kind
  readonly place: number
  /** value in the steady state */
  readonly value: number
  readonly c: Float64Array
}

/** A trim, opened: its output is an input of the plant, what it measures is a state. */
export interface OpenLoop {
  readonly name: string
  readonly correction: Correction
  /** what it makes of what it measures, at the present roll diameter */
  readonly law: Law
  readonly input: Input
  /** index among the plant's states, and its size */
  readonly measured: number
  readonly scale: number
  /** whether its output stands at its limit, where it can do nothing more */
  readonly saturated: boolean
  /** of the roll that a schedule goes by, m */
  readonly diameter: number
}

export interface Plant {
  readonly line: Line
  readonly y: readonly number[]
  readonly n: number
  readonly states: readonly StateInfo[]
  readonly scales: Float64Array
  readonly a: Square
  readonly inputs: readonly Input[]
  readonly outputs: readonly Output[]
  readonly loops: readonly OpenLoop[]
}

const STEP = 1e-4

/** Linearises a line that stands in its steady state; what a map does not ask for (inputs, outputs) can be left out. */
export function plantOf({ line, y }: Standing, whole = true): Plant {
  const saturated = line.corrections.map((c) => Math.abs(c.output) >= c.law.limit * (1 - 1e-9))
  release(line, y)
  const states = movingStates(line)
  const differences = new Differences(line, y, states)
  const { a, c } = differences.states()
  const inputs = whole ? differences.inputs() : []
  const loops = line.corrections.map((correction, k): OpenLoop => {
    const state = measuredState(line, k)
    const measured = states.findIndex((s) => s.index === state)
    const diameter = 2 * line.rollers.estimate[scheduleRoll(line, correction)]
    return {
      ...{ name: nameOf(correction), correction, diameter, law: lawOf(correction, diameter) },
      input: differences.trim(correction),
      ...{ measured, scale: differences.scales[measured], saturated: saturated[k] },
    }
  })
  return {
    ...{ line, y, n: states.length, states, scales: differences.scales, a, inputs, loops },
    outputs: whole ? outputsOf(line, y, states, c) : [],
  }
}

/** Everything free to move: rollers turn forward, dancers slide without dry friction, the outputs of trims stay as they are. */
function release(line: Line, y: number[]): void {
  line.rollers.mode.fill(1)
  for (const c of line.carriages) {
    c.on = 'free'
    c.sliding = 0
  }
  line.rates(0, y)
  for (const c of line.corrections) c.open()
}

/** States that move by themselves: neither totals nor angles nor memories of trims. */
function movingStates(line: Line): StateInfo[] {
  return statesOf(line).filter((s) => s.kind !== 'total' && s.kind !== 'loop')
}

function measuredState(line: Line, k: number): number {
  const trim = line.corrections[k]
  if (trim instanceof TensionTrim) return trim.state
  const dancer = line.trims.find((t) => t === trim)?.dancer
  if (dancer === undefined) throw new RangeError('a trim that measures nothing')
  return dancer.state
}

function scheduleRoll(line: Line, correction: Correction): number {
  const driven = line.rollers.names.indexOf(correction.law.drives)
  if (!(correction instanceof TensionTrim)) return Math.max(0, driven)
  return driven === 0 ? 0 : line.rollers.count - 1
}

function outputsOf(line: Line, y: readonly number[], states: readonly StateInfo[], c: Float64Array[]): Output[] {
  const { spans, rollers } = line
  line.rates(0, y)
  const tensions = spans.names.map((name, j): Output => {
    return { key: `tension/${name}`, name, kind: 'force', place: rollers.places[j], value: spans.force[j], c: c[j] }
  })
  const scales = line.scales()
  const dancers = line.carriages.map((carriage): Output => {
    const row = new Float64Array(states.length)
    row[states.findIndex((s) => s.index === carriage.state)] = scales[carriage.state]
    const { name } = carriage
    return {
      key: `dancer/${name}`,
      name,
      kind: 'travel',
      place: carriage.setup.place,
      value: y[carriage.state],
      c: row,
    }
  })
  return [...tensions, ...dancers]
}

/** Takes central differences of the line's rates and tensions about one state. */
class Differences {
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

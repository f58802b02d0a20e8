/**
 * Switching: finds the instant at which a part goes over to another discrete state, and lets it.
 *
 * A crossing is seen at the end of a solver step. The step is then integrated again from its start over a part of its length
 * until the first crossing is bracketed to 1e-7 s; the run goes on from the far side of the bracket, where the switched variable
 * is set exactly. All guards are then asked again until none fires: one part letting go may let the next one go.
 */
import type { Line } from '../line/line'
import type { Guard, Notice } from '../line/part'
import type { Integrator } from './integrate'

const TIME_TOLERANCE = 1e-7
const MOST_BISECTIONS = 60
const MOST_AT_ONCE = 400

/** A part that switches to and fro without an end. */
export class Chatter extends Error {
  constructor(
    readonly at: number,
    readonly part: string,
  ) {
    super(`${part} chatters at ${at} s`)
  }
}

export interface Crossing {
  readonly t: number
  readonly y: number[]
}

export class Switching {
  events = 0
  /** the part that has switched last */
  lastPart = 'a part'
  private readonly line: Line
  private readonly guards: readonly Guard[]

  constructor(line: Line) {
    this.line = line
    this.guards = line.guards
  }

  /** Whether any guard has been crossed at (t, y), at which the line has been evaluated. */
  crossed(t: number, y: readonly number[]): boolean {
    const { guards } = this
    for (let k = 0; k < guards.length; k++) if (guards[k].value(t, y) > 0) return true
    return false
  }

  /** The first instant in (from, to] at which a guard is crossed, on its far side. `y0` belongs to `from`, `y1` to `to`. */
  locate(integrator: Integrator, from: number, y0: number[], to: number, y1: number[]): Crossing {
    let clear = from
    this.line.rates(from, y0)
    const before = this.guards.map((g) => g.value(from, y0))
    let far: Crossing = { t: to, y: y1 }
    for (let n = 0; n < MOST_BISECTIONS && far.t - clear > TIME_TOLERANCE; n++) {
      const t = this.guess(from, before, clear, far)
      const y = integrator.retry(from, y0, t)
      this.line.rates(t, y)
      if (this.crossed(t, y)) far = { t, y }
      else clear = t
    }
    return far
  }

  /** Where to look next: a chord through the guards at both ends of the step, kept well inside the bracket. */
  private guess(from: number, before: readonly number[], clear: number, far: Crossing): number {
    this.line.rates(far.t, far.y)
    let first = 1
    this.guards.forEach((g, k) => {
      const ahead = g.value(far.t, far.y)
      if (ahead > 0 && before[k] < 0) first = Math.min(first, before[k] / (before[k] - ahead))
    })
    const chord = from + first * (far.t - from) + 0.4 * TIME_TOLERANCE
    const width = far.t - clear
    const middle = clear + width / 2
    return Math.abs(chord - middle) < 0.49 * width ? chord : middle
  }

  /** Lets every crossed guard go over until none is crossed. The line is left evaluated at (t, y). */
  settle(t: number, y: number[], tell: (guard: Guard, notice: Notice) => void): void {
    for (let n = 0; ; n++) {
      this.line.rates(t, y)
      const guard = this.guards.find((g) => g.value(t, y) > 0)
      if (guard === undefined) return
      if (n >= MOST_AT_ONCE) throw new Chatter(t, guard.name)
      const notice = guard.cross(t, y)
      this.events++
      this.lastPart = guard.name
      if (notice !== undefined) tell(guard, notice)
    }
  }
}

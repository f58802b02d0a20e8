/**
 * Advances the line's states in time with odex, dense output off.
 *
 * Weights are absolute: tolerance x what matters for each state, so that a strain of 5e-4 on a metre of film is resolved as well
 * as the metre is, and totals that grow without bound lose nothing. A line at rest is held as it is: the solver would take the
 * rounding of its rates for an instability.
 */
import { Solver } from './odex'
import type { Line } from '../line/line'

const MOST_STEPS = 20_000
/** Calls of the rate function within one interval: odex itself does not end when a state runs off to infinity. */
const MOST_CALLS = 500_000
/** A line whose states would all move by less than this share of the tolerance within the interval stands. */
const STANDING = 1e-3

/** The states have left the numbers: told with time and state, ends the run. */
export class NotFinite extends Error {
  constructor(
    readonly at: number,
    readonly state: string,
  ) {
    super(`${state} is not a number at ${at} s`)
  }
}

/** Too many steps within one interval. */
export class TooStiff extends Error {
  constructor(readonly at: number) {
    super(`no end of steps at ${at} s`)
  }
}

export type Seen = (before: number, t: number, y: number[]) => boolean

export class Integrator {
  steps = 0
  evaluations = 0
  private readonly line: Line
  private readonly solver: Solver
  private readonly short: Solver
  /** error allowed in each state */
  private readonly allowed: readonly number[]
  private lastStep: number
  private calls = 0
  private readonly rates = (t: number, y: number[]): number[] => {
    if (++this.calls > MOST_CALLS) throw new TooStiff(t)
    return this.line.rates(t, y)
  }

  /** @param tolerance relative to what matters for each state; @param longestStep s */
  constructor(line: Line, scales: Float64Array, tolerance: number, longestStep: number) {
    this.line = line
    this.lastStep = longestStep
    this.allowed = Array.from(scales, (s) => s * tolerance)
    const make = () => {
      const solver = new Solver(line.size)
      solver.absoluteTolerance = [...this.allowed]
      solver.relativeTolerance = new Array<number>(line.size).fill(0)
      solver.maxStepSize = longestStep
      solver.maxSteps = MOST_STEPS
      return solver
    }
    this.solver = make()
    this.short = make()
  }

  /** From (t, y) towards `end` (s); `seen` hears every step and ends the integration by returning false. Returns the last state. */
  advance(t: number, y: number[], end: number, seen: Seen): number[] {
    if (this.stands(t, y, end)) {
      seen(t, end, y)
      return y.slice()
    }
    const { solver } = this
    solver.initialStepSize = this.lastStep
    this.calls = 0
    const result = solver.solve(this.rates, t, y, end, (n, before, now, state) => {
      if (n === 1) return true
      this.checkFinite(now, state)
      if (now < end) this.lastStep = now - before
      return seen(before, now, state)
    })
    this.count(result)
    if (result.outcome === 1) throw new TooStiff(t)
    this.checkFinite(end, result.y)
    return result.y
  }

  /** Looked at from the end backwards: a ramp that begins at t is known by it at the first look. */
  private stands(t: number, y: number[], end: number): boolean {
    for (const at of [end, (t + end) / 2, t]) {
      this.evaluations++
      const rates = this.line.rates(at, y)
      for (let k = 0; k < rates.length; k++) {
        if (!(Math.abs(rates[k]) * (end - t) < STANDING * this.allowed[k])) return false
      }
    }
    return true
  }

  /** From (t, y) over a part of one step, to locate a switch. */
  retry(t: number, y: number[], end: number): number[] {
    const { short } = this
    short.initialStepSize = end - t
    this.calls = 0
    const result = short.solve(this.rates, t, y, end)
    this.count(result)
    this.checkFinite(end, result.y)
    return result.y
  }

  private count(result: { nStep: number; nEval: number }): void {
    this.steps += result.nStep
    this.evaluations += result.nEval
  }

  private checkFinite(t: number, y: readonly number[]): void {
    for (let k = 0; k < y.length; k++) {
      if (!Number.isFinite(y[k])) throw new NotFinite(t, this.line.stateNames[k])
    }
  }
}

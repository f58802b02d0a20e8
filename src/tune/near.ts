/**
 * The steady state of a line from that of a line nearly like it: what a map does thousands of times.
 *
 * Equations    those of line/rest.ts, f(y) = 0; the matrix of the first step serves for all as long as the steps shrink well
 * Source       simplified Newton method, textbook
 */
import type { Line } from '../line/line'
import { checkStart, steadySystem } from '../line/rest'
import { Factors } from './dense'

/** A steady state, and what it was found for. */
export interface Neighbour {
  readonly y: readonly number[]
  readonly speed: number
  readonly radius: readonly number[]
  readonly length: readonly number[]
}

const CLOSE = 1e-8
const MOST_STEPS = 12
const MOST_MATRICES = 4
const STEP = 1e-4

export function neighbourOf(line: Line, y: readonly number[]): Neighbour {
  const { rollers, spans } = line
  return { y, speed: line.spec.speed.start, radius: [...rollers.radius], length: [...spans.length] }
}

/** Steady state of a running line near another; undefined when it is not found so, or is none to start from. */
export function steadyNear(line: Line, near: Neighbour): number[] | undefined {
  if (near.y.length !== line.size || near.speed === 0 || line.spec.speed.start === 0) return undefined
  line.courses.enter(0)
  const { unknowns, equations } = steadySystem(line)
  if (unknowns.length !== equations.length) return undefined
  const y = guess(line, near)
  const scales = line.scales()
  const search = new Search(line, y, unknowns, equations, scales)
  if (!search.run()) return undefined
  for (const c of line.carriages) y[c.state + 1] = 0
  return checkStart(line, y).ok ? y : undefined
}

/** Rollers turn with the line's speed as those of the neighbour did, spans hold as much film for their length. */
function guess(line: Line, near: Neighbour): number[] {
  const y = [...near.y]
  const { rollers, spans, spec } = line
  const faster = spec.speed.start / near.speed
  for (let i = 0; i < rollers.count; i++) {
    const k = rollers.state[i]
    if (k >= 0) y[k] = (near.y[k] * faster * near.radius[i]) / rollers.radius[i]
  }
  for (const roll of [line.unwindRoll, line.rewindRoll]) {
    if (roll.states.estimate !== undefined) y[roll.states.estimate] = roll.mean
  }
  line.place(0, y)
  for (let j = 0; j < spans.count; j++) y[j] = (near.y[j] * spans.length[j]) / near.length[j]
  return y
}

class Search {
  private factors: Factors | undefined
  private matrices = 0
  private readonly rest: Float64Array
  private readonly behind: Float64Array

  constructor(
    private readonly line: Line,
    private readonly y: number[],
    private readonly unknowns: readonly number[],
    private readonly equations: readonly number[],
    private readonly scales: Float64Array,
  ) {
    this.rest = new Float64Array(equations.length)
    this.behind = new Float64Array(equations.length)
  }

  run(): boolean {
    const { y, unknowns, scales } = this
    let before = Infinity
    for (let step = 0; step < MOST_STEPS; step++) {
      if (this.factors === undefined && !this.linearise()) return false
      this.rates(this.rest)
      const move = this.factors?.solve(this.rest)
      if (move === undefined) return false
      let size = 0
      for (let k = 0; k < unknowns.length; k++) {
        y[unknowns[k]] -= move[k] * scales[unknowns[k]]
        size = Math.max(size, Math.abs(move[k]))
      }
      if (!(size < 1e6)) return false
      if (size < CLOSE) return true
      if (size > 0.2 * before) this.factors = undefined
      before = size
    }
    return false
  }

  private rates(into: Float64Array): void {
    const { equations, scales } = this
    const dy = this.line.rates(0, this.y)
    for (let i = 0; i < equations.length; i++) into[i] = dy[equations[i]] / scales[equations[i]]
  }

  private linearise(): boolean {
    if (++this.matrices > MOST_MATRICES) return false
    const { unknowns, y, scales, rest, behind } = this
    const n = unknowns.length
    const a = new Float64Array(n * n)
    for (let k = 0; k < n; k++) {
      const state = unknowns[k]
      const here = y[state]
      y[state] = here + STEP * scales[state]
      this.rates(rest)
      y[state] = here - STEP * scales[state]
      this.rates(behind)
      y[state] = here
      for (let i = 0; i < n; i++) a[i * n + k] = (rest[i] - behind[i]) / (2 * STEP)
    }
    this.factors = new Factors(a, n)
    return !this.factors.singular
  }
}

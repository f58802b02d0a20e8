/**
 * The linear line in time: what it does to inputs that run straight from tick to tick.
 *
 * Variables    x: states of the closed line (closed.ts); u: inputs with their slopes; r: set points; k: outputs of trims that are kept
 * Equations    x+ = exp of [A B B' R K; 0 0 1 0 0; 0 ...] over a tick, exact for straight pieces; programs act at their samples; a trim that
 *              is kept still leaves its output as it is, and takes up again where that does not jump (correction.ts)
 * Neglected    as in plant.ts; limits, dead bands
 * Source       linear systems, textbook
 */
import { closedLine, closedRow, OWN, samples, setPointColumn, type ClosedLine, type Placed } from './closed'
import { apply, bordered, exponential, type Square } from './dense'
import type { Input } from './differences'
import type { OpenLoop, Output, Plant } from './plant'

/** What is asked of a linear run. */
export interface LinearQuestion {
  readonly inputs: readonly Input[]
  readonly outputs: readonly Output[]
  /** s; sample times of programs are multiples */
  readonly tick: number
  /** trims that are to be kept still now and then */
  readonly keeps?: readonly OpenLoop[]
}

/** One way of going on: with all trims at work, or with some kept. */
interface Manner {
  readonly move: Square
  readonly rows: readonly Float64Array[]
  /** directly from set point or kept output (index in the wide vector) to an output */
  readonly direct: readonly (readonly [from: number, output: number, gain: number])[]
}

export class LinearRun {
  readonly x: Float64Array
  /** of the outputs, off their steady values, at the present tick */
  readonly seen: Float64Array
  private ticks = 0
  private keeping = false
  private readonly size: number
  private readonly wide: Float64Array
  private readonly next: Float64Array
  private readonly free: Manner
  private readonly kept: Manner
  private readonly keeps: readonly Placed[]
  private readonly places: readonly number[]
  private readonly known = new Map<string, Square>()

  constructor(
    private readonly plant: Plant,
    private readonly closed: ClosedLine,
    private readonly question: LinearQuestion,
  ) {
    const { inputs, outputs, keeps = [] } = question
    const { n, loops } = closed
    this.places = outputs.map((output) => plant.outputs.indexOf(output))
    this.keeps = loops.filter(({ loop }) => keeps.includes(loop))
    this.size = n + 2 * inputs.length + loops.length + this.keeps.length
    this.wide = new Float64Array(this.size)
    this.next = new Float64Array(this.size)
    this.x = this.wide.subarray(0, n)
    this.seen = new Float64Array(outputs.length)
    this.free = this.manner([])
    this.kept = this.keeps.length === 0 ? this.free : this.manner(this.keeps)
  }

  /** Index in the wide vector of the set point of a loop, and of the output that a loop keeps. */
  private setPointAt(k: number): number {
    return this.closed.n + 2 * this.question.inputs.length + k
  }
  private keptAt(k: number): number {
    return this.setPointAt(this.closed.loops.length) + k
  }

  private manner(kept: readonly Placed[]): Manner {
    const { plant, closed, question, places } = this
    const { n, loops } = closed
    const { inputs, outputs, tick } = question
    // a program keeps by not acting: its output is a state of its own
    const still = kept.filter(({ law }) => law.program === undefined)
    const lines = closedLine(
      plant,
      still.map(({ loop }) => loop),
    )
    const between = lines.ok ? lines.between : closed.between
    const none = new Float64Array(n)
    const widen = (column: Float64Array) => {
      const whole = new Float64Array(n)
      whole.set(column)
      return whole
    }
    const works = (one: Placed) => one.law.program === undefined && !still.includes(one)
    const columns = [
      ...inputs.map(({ b }) => widen(b)),
      ...inputs.map(({ bRate }) => widen(bRate)),
      ...loops.map((one) => (works(one) ? setPointColumn(closed, one) : none)),
      ...this.keeps.map((one) => (still.includes(one) ? widen(one.loop.input.b) : none)),
    ]
    const working = { ...closed, loops: loops.filter((one) => !still.includes(one)) }
    const direct: (readonly [number, number, number])[] = []
    outputs.forEach((_, j) => {
      loops.forEach((one, k) => {
        const d = one.loop.input.d[places[j]]
        if (works(one) && d !== 0) direct.push([this.setPointAt(k), j, -d * one.law.strength * one.law.gain])
      })
      this.keeps.forEach((one, k) => {
        const d = one.loop.input.d[places[j]]
        if (still.includes(one) && d !== 0) direct.push([this.keptAt(k), j, d])
      })
    })
    return {
      move: rampedOver(between, n, columns, inputs.length, tick),
      rows: outputs.map((output, j) => closedRow(working, output.c, (loop) => loop.input.d[places[j]])),
      direct,
    }
  }

  /**
   * Acts at the present tick on set points (off their steady values, in the order of the closed line's loops), reads the outputs, then
   * goes on one tick while the inputs run straight from `now` to `then`. `keep`: whether the trims that can be kept still are.
   */
  step(now: ArrayLike<number>, then: ArrayLike<number>, setPoints: ArrayLike<number>, keep = false): void {
    const { wide, closed, question } = this
    const { inputs, tick } = question
    const n = closed.n
    for (let k = 0; k < closed.loops.length; k++) wide[this.setPointAt(k)] = setPoints[k]
    if (keep !== this.keeping) this.turn(keep)
    this.sample(setPoints)
    for (let k = 0; k < inputs.length; k++) {
      wide[n + k] = now[k]
      wide[n + inputs.length + k] = (then[k] - now[k]) / tick
    }
    const manner = keep ? this.kept : this.free
    this.read(manner)
    apply(manner.move, wide, this.size, this.next)
    wide.set(this.next)
    this.ticks++
  }

  private read({ rows, direct }: Manner): void {
    const { seen, wide, question, closed, places } = this
    const n = closed.n
    const { inputs } = question
    rows.forEach((row, k) => {
      let sum = 0
      for (let i = 0; i < n; i++) sum += row[i] * wide[i]
      const j = places[k]
      inputs.forEach(({ d }, i) => (sum += d[j] * wide[n + i]))
      seen[k] = sum
    })
    for (const [from, output, gain] of direct) seen[output] += gain * wide[from]
  }

  /** Trims are kept from now on, or take up again. */
  private turn(keep: boolean): void {
    this.keeping = keep
    this.keeps.forEach((one, k) => {
      const { law, first, loop } = one
      const { strength, gain, integral, program } = law
      const off = this.x[loop.measured] * loop.scale - this.wide[this.setPointAt(this.closed.loops.indexOf(one))]
      if (keep) {
        if (program !== undefined) return
        const sum = integral > 0 ? integral * this.x[first] : 0
        this.wide[this.keptAt(k)] = strength * (gain * off + sum)
        return
      }
      const output = program === undefined ? this.wide[this.keptAt(k)] : this.x[first + OWN.held]
      const sum = integral > 0 && strength !== 0 ? (output / strength - gain * off) / integral : 0
      if (program === undefined) {
        if (integral > 0) this.x[first] = sum
        return
      }
      this.x[first + OWN.filtered] = this.x[loop.measured] * loop.scale
      this.x[first + OWN.slope] = 0
      this.x[first + OWN.integral] = sum
      this.x[first + OWN.waiting] = output
    })
  }

  /** Lets the programs act that are due at this tick. */
  private sample(setPoints: ArrayLike<number>): void {
    const { closed, question, ticks } = this
    const due = closed.loops.filter((one) => {
      const { program } = one.law
      if (program === undefined || (this.keeping && this.keeps.includes(one))) return false
      return ticks % Math.round(program.sample / question.tick) === 0
    })
    if (due.length === 0) return
    const after = apply(this.matrixOf(due), this.x, closed.n, new Float64Array(closed.n))
    for (const placed of due) {
      const column = setPointColumn(closed, placed)
      const r = setPoints[closed.loops.indexOf(placed)]
      for (let i = 0; i < closed.n; i++) after[i] += column[i] * r
    }
    this.x.set(after)
  }

  private matrixOf(due: readonly Placed[]): Square {
    const key = due.map(({ first }) => first).join()
    const known = this.known.get(key)
    if (known !== undefined) return known
    const made = samples(this.closed.n, due)
    this.known.set(key, made)
    return made
  }
}

/** exp over a tick: columns of inputs, of their slopes, then of all that is held. */
function rampedOver(a: Square, n: number, columns: readonly Float64Array[], inputs: number, t: number): Square {
  const size = n + columns.length
  const whole = bordered(a, n, columns)
  for (let k = 0; k < inputs; k++) whole[(n + k) * size + n + inputs + k] = 1
  return exponential(whole, t, size)
}

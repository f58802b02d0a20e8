/**
 * The linear line in time: what it does to inputs that run straight from tick to tick.
 *
 * Variables    x: states of the closed line (closed.ts); u: inputs with their slopes; r: set points
 * Equations    x+ = exp of [A B B'; 0 0 1; 0 0 0] over a tick, exact for straight pieces; programs act at their samples
 * Neglected    as in plant.ts; limits, dead bands
 * Source       linear systems, textbook
 */
import { closedRow, samples, setPointColumn, type ClosedLine, type Placed } from './closed'
import { apply, bordered, exponential, type Square } from './dense'
import type { Input, Output, Plant } from './plant'

/** What is asked of a linear run. */
export interface LinearQuestion {
  readonly inputs: readonly Input[]
  readonly outputs: readonly Output[]
  /** s; sample times of programs are multiples */
  readonly tick: number
}

export class LinearRun {
  readonly x: Float64Array
  /** of the outputs, off their steady values, at the present tick */
  readonly seen: Float64Array
  private ticks = 0
  private readonly move: Square
  private readonly size: number
  private readonly wide: Float64Array
  private readonly next: Float64Array
  private readonly rows: readonly Float64Array[]
  private readonly places: readonly number[]
  private readonly known = new Map<string, Square>()
  private readonly direct: readonly (readonly [loop: number, output: number, gain: number])[]

  constructor(
    plant: Plant,
    private readonly closed: ClosedLine,
    private readonly question: LinearQuestion,
  ) {
    const { inputs, outputs, tick } = question
    const { n, loops } = closed
    const widen = (column: Float64Array) => {
      const wide = new Float64Array(n)
      wide.set(column)
      return wide
    }
    const wanted = loops.map((placed) =>
      placed.law.program === undefined ? setPointColumn(closed, placed) : new Float64Array(n),
    )
    const columns = [...inputs.map(({ b }) => widen(b)), ...inputs.map(({ bRate }) => widen(bRate)), ...wanted]
    this.size = n + columns.length
    this.move = rampedOver(closed.between, n, columns, inputs.length, tick)
    this.wide = new Float64Array(this.size)
    this.next = new Float64Array(this.size)
    this.x = this.wide.subarray(0, n)
    this.seen = new Float64Array(outputs.length)
    this.rows = outputs.map((output) => {
      const j = plant.outputs.indexOf(output)
      return closedRow(closed, output.c, (loop) => loop.input.d[j])
    })
    this.direct = outputs.flatMap((output, k) =>
      loops.flatMap(({ loop, law }, i) => {
        const d = loop.input.d[plant.outputs.indexOf(output)]
        return law.program === undefined && d !== 0 ? [[i, k, -d * law.strength * law.gain] as const] : []
      }),
    )
    this.places = outputs.map((output) => plant.outputs.indexOf(output))
  }

  /**
   * Acts at the present tick on set points (off their steady values, in the order of the closed line's loops), reads the outputs, then
   * goes on one tick while the inputs run straight from `now` to `then`.
   */
  step(now: ArrayLike<number>, then: ArrayLike<number>, setPoints: ArrayLike<number>): void {
    this.sample(setPoints)
    const { wide, closed, question } = this
    const { inputs, tick } = question
    const n = closed.n
    for (let k = 0; k < inputs.length; k++) {
      wide[n + k] = now[k]
      wide[n + inputs.length + k] = (then[k] - now[k]) / tick
    }
    for (let k = 0; k < closed.loops.length; k++) wide[n + 2 * inputs.length + k] = setPoints[k]
    this.read(setPoints)
    apply(this.move, wide, this.size, this.next)
    wide.set(this.next)
    this.ticks++
  }

  private read(setPoints: ArrayLike<number>): void {
    const { rows, seen, wide, question, closed, places } = this
    const n = closed.n
    const { inputs } = question
    rows.forEach((row, k) => {
      let sum = 0
      for (let i = 0; i < n; i++) sum += row[i] * wide[i]
      const j = places[k]
      inputs.forEach(({ d, dRate }, i) => (sum += d[j] * wide[n + i] + dRate[j] * wide[n + inputs.length + i]))
      seen[k] = sum
    })
    for (const [loop, output, gain] of this.direct) seen[output] += gain * setPoints[loop]
  }

  /** Lets the programs act that are due at this tick. */
  private sample(setPoints: ArrayLike<number>): void {
    const { closed, question } = this
    const due: Placed[] = closed.loops.filter(({ law }) => {
      return law.program !== undefined && this.ticks % Math.round(law.program.sample / question.tick) === 0
    })
    if (due.length === 0) return
    const matrix = this.matrixOf(due)
    const after = apply(matrix, this.x, closed.n, new Float64Array(closed.n))
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

/** exp of [A B B' R; u' = slope; 0; 0] over a tick: columns of inputs, of their slopes, of set points. */
function rampedOver(a: Square, n: number, columns: readonly Float64Array[], inputs: number, t: number): Square {
  const size = n + columns.length
  const whole = bordered(a, n, columns)
  for (let k = 0; k < inputs; k++) whole[(n + k) * size + n + inputs + k] = 1
  return exponential(whole, t, size)
}

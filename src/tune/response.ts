/**
 * How strongly a disturbance shows in tension or dancer position, frequency by frequency, with all loops at work.
 *
 * Equations    y = G u: outputs and measured values from disturbances and trim outputs, each c (j w - A)^-1 (b + j w b') + d;
 *              trims closed: u_k = C_k(j w) hold_k(j w) m_k + set point
 * Neglected    what a sampled loop folds back from beyond half its sampling rate; else as in plant.ts
 * Source       linear systems, textbook
 */
import { Complex } from './complex'
import { FrequencySystem, type Turned } from './frequency'
import { holdAt, lawAt, setPointLawAt, type Law } from './law'
import { frequenciesUpTo, livelyOf } from './loops'
import type { Input } from './differences'
import type { OpenLoop, Output, Plant } from './plant'

export interface ResponsePoint {
  /** Hz */
  readonly frequency: number
  /** of the output for one unit of the disturbance, SI */
  readonly value: Complex
}

/** All answers of a line at any frequency. */
export class Responses {
  readonly disturbances: readonly Input[]
  readonly outputs: readonly Output[]
  private readonly system: FrequencySystem
  private readonly columns: readonly (readonly [Turned, Turned])[]
  private readonly trims: readonly (readonly [Turned, undefined])[]
  private readonly rows: readonly Turned[]
  private readonly measured: readonly Turned[]
  private readonly loops: readonly OpenLoop[]
  private readonly laws: readonly Law[]
  private readonly lively: readonly number[]

  constructor(plant: Plant) {
    this.loops = plant.loops.filter((loop) => !loop.saturated)
    this.laws = this.loops.map(({ law }) => law)
    this.disturbances = [...plant.inputs, ...this.loops.map(setPointOf)]
    this.outputs = plant.outputs
    const system = (this.system = new FrequencySystem(plant.a, plant.n))
    this.columns = plant.inputs.map((input) => [system.turn(input.b), system.turn(input.bRate)])
    this.trims = this.loops.map(({ input }) => [system.turn(input.b), undefined])
    this.rows = plant.outputs.map((output) => system.turn(output.c))
    this.measured = this.loops.map(({ measured, scale }) => {
      const row = new Float64Array(plant.n)
      row[measured] = scale
      return system.turn(row)
    })
    this.lively = livelyOf(plant.a, plant.n, undefined)
  }

  /** Answers of all outputs to disturbance `k` at frequency w (rad/s). */
  at(w: number, k: number): Complex[] {
    const s = new Complex(0, w)
    const given = k < this.columns.length ? [this.columns[k]] : []
    const answers = this.system.answer(s, [...given, ...this.trims], [...this.rows, ...this.measured])
    const direct = answers.slice(0, given.length)
    const trims = answers.slice(given.length)
    const outputs = this.rows.length
    const kicks = this.loops.map((_, i) => {
      if (given.length === 0) {
        const own = k - this.columns.length === i
        return own ? setPointLawAt(this.laws[i], w).by(holdAt(this.laws[i], w)) : new Complex(0, 0)
      }
      return direct[0][outputs + i].by(this.lawHeld(i, w))
    })
    const acts = this.closed(trims, kicks, w)
    return this.outputs.map((_, j) => {
      let value = given.length === 0 ? new Complex(0, 0) : direct[0][j].plus(this.disturbances[k].d[j])
      acts.forEach((act, i) => {
        const reach = trims[i][j].plus(this.loops[i].input.d[j])
        value = value.add(reach.by(act))
      })
      return value
    })
  }

  private lawHeld(i: number, w: number): Complex {
    return lawAt(this.laws[i], w).by(holdAt(this.laws[i], w))
  }

  /** Trim outputs: u = kick + C G u. */
  private closed(trims: readonly Complex[][], kicks: readonly Complex[], w: number): Complex[] {
    const n = kicks.length
    const m = Array.from({ length: n }, (_, i) => {
      const law = this.lawHeld(i, w)
      return Array.from({ length: n }, (__, k) => {
        const loop = trims[k][this.rows.length + i].by(law).times(-1)
        return i === k ? loop.plus(1) : loop
      })
    })
    return solve(m, [...kicks])
  }

  /** Answer of one output to one disturbance over frequency. */
  over(disturbance: string, output: string, lowest = 0.01, highest = 200): ResponsePoint[] {
    const k = this.disturbances.findIndex((d) => d.key === disturbance)
    const j = this.outputs.findIndex((o) => o.key === output)
    if (k < 0 || j < 0) return []
    const turn = 2 * Math.PI
    return frequenciesUpTo(turn * highest, this.lively, turn * lowest).map((w) => ({
      frequency: w / turn,
      value: this.at(w, k)[j],
    }))
  }
}

/** The set point of a trim, as a disturbance. */
function setPointOf({ name, correction, input }: OpenLoop): Input {
  const kind = 'dancer' in correction ? 'travel' : 'force'
  return { ...input, key: `set point/${correction.law.drives}`, name: `set point of the ${name}`, kind }
}

/** Gauss with the largest pivot of each column. */
function solve(m: Complex[][], b: Complex[]): Complex[] {
  const n = b.length
  for (let k = 0; k < n; k++) {
    let pivot = k
    for (let i = k + 1; i < n; i++) if (m[i][k].size > m[pivot][k].size) pivot = i
    ;[m[k], m[pivot]] = [m[pivot], m[k]]
    ;[b[k], b[pivot]] = [b[pivot], b[k]]
    for (let i = k + 1; i < n; i++) {
      const f = m[i][k].over(m[k][k])
      for (let j = k; j < n; j++) m[i][j] = m[i][j].less(m[k][j].by(f))
      b[i] = b[i].less(b[k].by(f))
    }
  }
  for (let k = n - 1; k >= 0; k--) {
    for (let j = k + 1; j < n; j++) b[k] = b[k].less(m[k][j].by(b[j]))
    b[k] = b[k].over(m[k][k])
  }
  return b
}

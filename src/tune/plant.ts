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
import type { Line } from '../line/line'
import { TensionTrim } from '../line/tension-trim'
import type { Kind } from '../units'
import type { Square } from './dense'
import { Differences, type Input } from './differences'
import { lawOf, type Law } from './law'
import type { Standing } from './setup'
import { nameOf, statesOf, type StateInfo } from './states'

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

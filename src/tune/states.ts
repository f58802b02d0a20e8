/** What each state of a line is, for people and for telling modes apart. */
import type { Correction } from '../line/correction'
import { ServoDrive } from '../line/drive'
import type { Line } from '../line/line'
import { TensionTrim } from '../line/tension-trim'

export type StateKind =
  'film' | 'roller' | 'drive' | 'dancer' | 'cylinder' | 'load cell' | 'diameter calculator' | 'loop' | 'total'

export interface StateInfo {
  readonly index: number
  /** as the line calls it */
  readonly name: string
  /** the part it belongs to: a span by its two ends */
  readonly part: string
  /** index of the part in the scenario's line; of a span, of the roller before it */
  readonly place: number
  readonly kind: StateKind
}

/** All states of a line, in its order. */
export function statesOf(line: Line): StateInfo[] {
  const { rollers, spans } = line
  const infos = line.stateNames.map((name, index): StateInfo => ({ index, name, part: name, place: 0, kind: 'total' }))
  const note = (index: number | undefined, part: string, place: number, kind: StateKind) => {
    if (index !== undefined && index >= 0) infos[index] = { index, name: line.stateNames[index], part, place, kind }
  }
  spans.names.forEach((name, j) => note(j, name, rollers.places[j], 'film'))
  const driven = new Set(line.drives.filter((d) => d.reference !== undefined).map((d) => d.roller))
  rollers.names.forEach((name, i) => {
    note(rollers.state[i], name, rollers.places[i], driven.has(i) ? 'drive' : 'roller')
  })
  ;[line.unwindRoll, line.rewindRoll].forEach((roll, k) => {
    const place = rollers.places[k === 0 ? 0 : rollers.count - 1]
    note(roll.states.estimate, roll.name, place, 'diameter calculator')
  })
  for (const c of line.carriages) {
    note(c.state, c.name, c.setup.place, 'dancer')
    note(c.state + 1, c.name, c.setup.place, 'dancer')
    note(c.cylinder?.state, `cylinder of ${c.name}`, c.setup.place, 'cylinder')
  }
  for (const c of line.corrections) {
    const place = placeOf(line, c.law.drives)
    if (c instanceof TensionTrim) note(c.state, c.spec.measures, placeOf(line, c.spec.measures), 'load cell')
    note(c.integralState, nameOf(c), place, 'loop')
  }
  for (const d of line.drives) {
    if (d instanceof ServoDrive) note(d.state, d.name, rollers.places[d.roller], 'drive')
  }
  return infos
}

/** How a loop is called. */
export function nameOf(correction: Correction): string {
  return correction instanceof TensionTrim
    ? `tension trim of ${correction.law.drives}`
    : `position trim of ${correction.law.drives}`
}

function placeOf(line: Line, part: string): number {
  return line.rollers.places[Math.max(0, line.rollers.names.indexOf(part))]
}

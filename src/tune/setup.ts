/**
 * The line at the point about which it is linearised: its own scenario without a stage, at any line speed and roll diameters.
 *
 * Equations    steady state of the simulator's own equations: line/rest.ts
 * Neglected    the stage (settings stand as they do at the start), dead bands; dancer friction (see plant.ts)
 * Source       own derivation
 */
import { Line } from '../line/line'
import { operatingPoint } from '../line/rest'
import type { PartSpec } from '../line/parts'
import type { RunScenario } from '../run/run'
import { formatQuantity } from '../units'

/** Where the line is looked at; what is left out is as the scenario starts. SI. */
export interface Point {
  /** m/s */
  readonly speed?: number | undefined
  /** m, outer diameter of the roll */
  readonly unwindDiameter?: number | undefined
  readonly rewindDiameter?: number | undefined
}

export interface Standing {
  readonly ok: true
  readonly line: Line
  readonly y: number[]
}

/** Why a line cannot be looked at, in words; `field` names what to change where that is known. */
export interface Trouble {
  readonly ok: false
  readonly say: string
  readonly field?: string
}

/** m, by which the rolls are out of round: no more than a means to turn them into inputs; at the start's angle the radius is the mean. */
export const RUNOUT = 1e-3

/** The scenario at another point, its rolls out of round by RUNOUT. */
export function scenarioAt(scenario: RunScenario, point: Point): RunScenario {
  const { speed = scenario.speed.start, unwindDiameter, rewindDiameter } = point
  const line = scenario.line.map((part): PartSpec => {
    if (part.part === 'unwind') return { ...part, unevenness: uneven, diameter: unwindDiameter ?? part.diameter }
    if (part.part === 'rewind') return { ...part, unevenness: uneven, diameter: rewindDiameter ?? part.diameter }
    return part
  })
  return { ...scenario, line, stage: [], speed: { ...scenario.speed, start: speed } }
}

const uneven = { runout: RUNOUT, flat: 0, flatArc: 0.5 }

/** Builds the line at a point and finds its steady state. */
export function standAt(scenario: RunScenario, point: Point = {}): Standing | Trouble {
  const wrong = impossible(scenario, point)
  if (wrong !== undefined) return wrong
  const line = new Line(scenarioAt(scenario, point))
  const start = operatingPoint(line)
  if (!start.ok) return { ok: false, say: start.say, field: start.state }
  return { ok: true, line, y: start.y }
}

function impossible(scenario: RunScenario, { speed, unwindDiameter, rewindDiameter }: Point): Trouble | undefined {
  if (speed !== undefined && !(speed >= 0 && speed <= 50)) {
    return { ok: false, field: 'speed', say: 'The line speed must lie between 0 and 3000 m/min.' }
  }
  for (const part of scenario.line) {
    if (part.part !== 'unwind' && part.part !== 'rewind') continue
    const diameter = part.part === 'unwind' ? unwindDiameter : rewindDiameter
    if (diameter === undefined || (diameter >= part.core && diameter <= 5)) continue
    const core = formatQuantity(part.core, 'mm')
    return {
      ok: false,
      field: `diameter of ${part.name}`,
      say: `The roll on ${part.name} must be at least as large as its core, ${core}, and no larger than 5 m.`,
    }
  }
  return undefined
}

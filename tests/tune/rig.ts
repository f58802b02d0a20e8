/** Small lines as linear plants. */
import { closedLine, type ClosedLine } from '../../src/tune/closed'
import { plantOf, type Plant } from '../../src/tune/plant'
import { standAt, type Point } from '../../src/tune/setup'
import { scenarioOf, type Setting } from '../line/rig'

export function plantAt(setting: Setting, point: Point = {}): Plant {
  const standing = standAt(scenarioOf(setting), point)
  if (!standing.ok) throw new Error(standing.say)
  return plantOf(standing)
}

export function closedAt(plant: Plant): ClosedLine {
  const closed = closedLine(plant)
  if (!closed.ok) throw new Error(closed.say)
  return closed
}

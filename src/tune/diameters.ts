/** Between which diameters a roll may stand on a line. */
import type { RunScenario } from '../run/run'

export interface RollRange {
  /** m */
  readonly core: number
  readonly present: number
  readonly full: number
}

/**
 * From the core to the largest that the scenario knows of: the roll that is on, those that the stage puts on, and the full roll of
 * whatever tapers with it.
 */
export function rollRange({ line, stage, control }: RunScenario, which: 'unwind' | 'rewind'): RollRange {
  const roll = which === 'unwind' ? line[0] : line.at(-1)
  if (roll?.part !== 'unwind' && roll?.part !== 'rewind') return { core: 0.1, present: 0.3, full: 0.5 }
  const known = [roll.diameter]
  for (const event of stage) {
    const brings = event.do === 'flying splice' || event.do === 'zero-speed splice' ? 'unwind' : 'rewind'
    if ('roll' in event && brings === which) known.push(event.roll.diameter)
  }
  if (roll.drive.kind === 'torque') known.push(roll.drive.fullDiameter)
  for (const c of control) {
    if (c.control === 'force taper' && c.measures === roll.name) known.push(c.fullDiameter)
  }
  return { core: roll.core, present: roll.diameter, full: Math.max(...known) }
}

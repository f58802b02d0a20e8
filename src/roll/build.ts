/**
 * Length, laps, mass and time of a roll, and what a drive is asked for along the way.
 *
 * Variables    roll radius r (m)
 * Parameters   core radius r0 (m), lap thickness h_eff = h x fill factor (m), width W (m), density rho (kg/m³), line speed v (m/s)
 * Equations    length = pi (r^2 - r0^2)/h_eff;  laps (r - r0)/h_eff;  mass rho h W x length;  time length/v
 *              torque F r, turn rate v/r, power F v of the film alone;  fill factor from a finished roll pi (R^2 - r0^2)/(length h)
 * Neglected    drag, inertia and losses of the drive; compression of the laps
 * Source       geometry
 */
import type { TaperSpec } from '../line/taper'
import { lapOf, type RollInput } from './input'
import { tensionAt } from './laws'

export interface Build {
  /** m */
  readonly diameter: number
  readonly length: number
  readonly laps: number
  /** kg, film alone */
  readonly mass: number
  /** s; undefined at a line speed of 0 */
  readonly time: number | undefined
}

export interface DriveRow extends Build {
  /** N */
  readonly tension: number
  /** share of the tension at the core */
  readonly share: number
  /** N m */
  readonly torque: number
  /** rad/s */
  readonly turnRate: number
  /** W */
  readonly power: number
}

export function buildAt(input: RollInput, radius: number): Build {
  const { film, core, speed } = input
  const lap = lapOf(input)
  const length = (Math.PI * (radius * radius - core.outer * core.outer)) / lap
  return {
    diameter: 2 * radius,
    length,
    laps: (radius - core.outer) / lap,
    mass: film.density * film.thickness * film.width * length,
    time: speed > 0 ? length / speed : undefined,
  }
}

/** Rows from core to full diameter in even steps, to be typed into a drive. */
export function driveTable(input: RollInput, steps: number, taper: TaperSpec = input.taper): DriveRow[] {
  const { core, fullRadius, speed } = input
  return Array.from({ length: steps + 1 }, (_, k) => {
    const radius = core.outer + ((fullRadius - core.outer) * k) / steps
    const tension = tensionAt(taper, core.outer, radius)
    return {
      ...buildAt(input, radius),
      tension,
      share: tension / taper.tension,
      torque: tension * radius,
      turnRate: speed / radius,
      power: tension * speed,
    }
  })
}

/** Thickness of a lap in the roll over nominal thickness, from a roll that was measured. m throughout. */
export function fillFactorFrom(measured: {
  diameter: number
  core: number
  length: number
  thickness: number
}): number {
  const { diameter, core, length, thickness } = measured
  return (Math.PI * (diameter * diameter - core * core)) / (4 * length * thickness)
}

/**
 * What shakes a line in time with its own turning: rolls and the index cycle, and where a harmonic meets a mode.
 *
 * Variables    frequency f (Hz) of harmonic n
 * Parameters   line speed v (m/s), roll diameter D (m), feed p (m) of an index cycle
 * Equations    roll: f = n v/(pi D); index cycle: f = n v/p
 *              a harmonic meets a mode of frequency f_m at v = f_m pi D/n, or at D = n v/(pi f_m); of the cycle at v = f_m p/n
 * Neglected    strain: film runs by parts in a thousand faster or slower
 * Source       kinematics
 */
import type { RunScenario } from '../run/run'
import type { Mode } from './modes'
import type { Point } from './setup'

export interface Shaker {
  /** for people: "unwind", "index cycle of index roller" */
  readonly name: string
  readonly of: 'roll' | 'cycle'
  /** Hz of one turn or cycle */
  readonly frequency: number
  /** m of film in one turn or cycle */
  readonly length: number
  /** m; of a roll */
  readonly diameter: number | undefined
  /** m, what the diameter can come to */
  readonly diameters: readonly [number, number] | undefined
}

export interface Meeting {
  readonly shaker: string
  readonly harmonic: number
  /** Hz */
  readonly frequency: number
  /** of the mode, 1 */
  readonly damping: number
  readonly mode: string
  /** m/s */
  readonly speed: number
  /** m, at the present speed; undefined where the roll never is that large or small, or for a cycle */
  readonly diameter: number | undefined
  /** how far the harmonic is from the mode at the point, 1 */
  readonly apart: number
}

export const HARMONICS = 6
/** Least damping that keeps a mode out of the words. */
export const LIGHT = 0.15

/** Rolls and index cycles of a line at a point; none while it stands. */
export function shakersOf(scenario: RunScenario, point: Point): Shaker[] {
  const speed = point.speed ?? scenario.speed.start
  if (speed <= 0) return []
  return scenario.line.flatMap((part): Shaker[] => {
    if (part.part === 'unwind' || part.part === 'rewind') {
      const chosen = part.part === 'unwind' ? point.unwindDiameter : point.rewindDiameter
      const diameter = chosen ?? part.diameter
      const length = Math.PI * diameter
      const full = Math.max(part.diameter, diameter, 4 * part.core)
      const diameters = [part.core, full] as const
      return [{ name: part.name, of: 'roll', frequency: speed / length, length, diameter, diameters }]
    }
    if (part.part !== 'driven' || part.index === undefined) return []
    const length = part.index.pitch
    const name = `index cycle of ${part.name}`
    return [{ name, of: 'cycle', frequency: speed / length, length, diameter: undefined, diameters: undefined }]
  })
}

/** Where harmonics meet lightly damped modes, the nearest first. */
export function meetingsOf(shakers: readonly Shaker[], modes: readonly Mode[], speed: number): Meeting[] {
  const light = modes.filter(({ frequency, damping }) => frequency > 0 && damping < LIGHT)
  const all = light.flatMap((mode) =>
    shakers.flatMap((shaker) => Array.from({ length: HARMONICS }, (_, k) => meeting(shaker, k + 1, mode, speed))),
  )
  return all.sort((a, b) => a.apart - b.apart)
}

function meeting(shaker: Shaker, harmonic: number, mode: Mode, speed: number): Meeting {
  const at = (mode.frequency * shaker.length) / harmonic
  const diameter = (harmonic * speed) / (Math.PI * mode.frequency)
  const [core, full] = shaker.diameters ?? [Infinity, 0]
  return {
    shaker: shaker.name,
    harmonic,
    frequency: mode.frequency,
    damping: mode.damping,
    mode: mode.kind,
    speed: at,
    diameter: diameter >= core && diameter <= full ? diameter : undefined,
    apart: Math.abs(Math.log((harmonic * shaker.frequency) / mode.frequency)),
  }
}

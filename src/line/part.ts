/**
 * What a machine part is to the rest of the program: a schema for its fields, a drawing role, and a way to join a line.
 */
import type { GenericSchema } from 'valibot'
import type { Assembly } from './assembly'

/** Something that ends a discrete state of a part: it fires when `value` has become positive. */
export interface Guard {
  /** The part, for people. */
  readonly name: string
  /** Negative or zero while the present discrete state holds. Asked after the line has been evaluated at (t, y). */
  value(t: number, y: readonly number[]): number
  /** Goes over to the next discrete state; sets the switched variable exactly. Returns what to tell, if anything. */
  cross(t: number, y: number[]): Notice | undefined
}

export interface Notice {
  readonly what:
    | 'slack'
    | 'taut'
    | 'stop touched'
    | 'stop left'
    | 'sticks'
    | 'turns'
    | 'splice'
    | 'splice passes'
    | 'runs out'
    | 'event'
  readonly say: string
}

/** A running part that does more than an idler. Phases of one evaluation: place, then the film, then act, then the rollers. */
export interface Actor {
  readonly name: string
  /** Before the film is evaluated: writes span lengths, radii, prescribed speeds, motor torques that depend on states only. */
  place?(t: number, y: readonly number[]): void
  /** After the film: writes own rates of change and whatever depends on tension. */
  act?(t: number, y: readonly number[], dy: number[]): void
  /** Rate at which energy is stored in the part beyond its rollers, W. */
  storedPower?(y: readonly number[], dy: readonly number[]): number
  /** Power that enters the part from outside less what it loses, beyond its rollers, W. */
  suppliedPower?(y: readonly number[]): number
  readonly guards?: readonly Guard[]
  /** Writes the size of a change that matters for each of its states; `speed` (m/s) and `force` (N) are those of the line. */
  scale?(scales: Float64Array, speed: number, force: number): void
}

/** How the part is drawn. */
export type DrawingRole = 'roll' | 'roller' | 'bar' | 'dancer' | 'drive' | 'span'

export interface PartDefinition<Spec> {
  readonly part: string
  readonly role: DrawingRole
  readonly schema: GenericSchema<unknown, Spec>
  /** Adds the part to the line that is being put together. `place` is its index in the scenario's line. */
  build(spec: Spec, assembly: Assembly, place: number): void
}

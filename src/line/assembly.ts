/**
 * Puts the parts of a scenario together: numbers rollers and spans, merges spans round bars, and leaves what needs the whole
 * line (carriages, drives, rolls) to be made once rollers and spans exist.
 */
import { materialOf, type FilmSpec, type Material } from '../film/film'
import { BrakeDrive, speedDrive, type Drive, type DriveSpec } from './drive'
import type { CarriageSetup } from './carriage'
import type { PartDefinition } from './part'
import { parts, type PartSpec } from './parts'
import type { FeedSpec } from './feed'
import type { Courses } from './courses'
import { rollSetup, type LayOn, type RollSetup, type RollSpec } from './roll'
import type { RollerSetup, Rollers } from './rollers'
import type { SpanSetup } from './spans'
import type { SpeedSpec } from './speed'
import type { StageEvent } from './stage'
import { TaperCourse } from './taper'
import { TorqueDrive, type TorqueDriveSpec } from './torque-drive'
import type { ControlSpec } from './control'

/** What a line is built from: the part of a scenario that the moving line knows. */
export interface LineSpec {
  readonly films: Readonly<Record<string, FilmSpec>>
  readonly line: readonly PartSpec[]
  readonly control: readonly ControlSpec[]
  readonly speed: SpeedSpec
  readonly stage: readonly StageEvent[]
  /** s, how long the run lasts */
  readonly run: { readonly for: number }
}

/** Makes a drive once rollers and courses exist; `state` hands out the index of one more state of that name. */
export type DriveMaker = (rollers: Rollers, courses: Courses, state: (name: string) => number) => Drive

export class Assembly {
  readonly rollers: RollerSetup[] = []
  readonly spans: SpanSetup[] = []
  readonly carriages: CarriageSetup[] = []
  readonly riders: { dancer: string; roller: number; wrap: number }[] = []
  readonly makers: DriveMaker[] = []
  private readonly films: LineSpec['films']
  private pending = { length: 0, free: 0, damped: 0 }
  unwound: { woundTension: number; setup: RollSetup } | undefined
  rewound: { setup: Omit<RollSetup, 'material'>; layOn: LayOn | undefined } | undefined

  constructor(spec: LineSpec) {
    this.films = spec.films
    spec.line.forEach((partSpec, place) => {
      const part: PartDefinition<PartSpec> = parts[partSpec.part]
      part.build(partSpec, this, place)
    })
  }

  /** The material of a film by name. The scenario's checks have made sure that it exists. */
  material(film: string): Material {
    const spec = this.films[film]
    if (spec === undefined) throw new RangeError(`no film named ${film}`)
    return materialOf(film, spec)
  }

  /** Adds a free length of film (m) with its damping (s) to the span under way. */
  freeLength(length: number, damping: number): void {
    this.pending.length += length
    this.pending.free += length
    this.pending.damped += length * damping
  }

  /** Adds film on an arc (m) to the span under way. */
  addArc(arc: number): void {
    this.pending.length += arc
  }

  /** Ends the span under way at a new roller and begins the next one; each takes half the arc. Returns the roller's index. */
  roller(setup: RollerSetup & { readonly diameter: number }): number {
    const halfArc = (setup.wrap * setup.diameter) / 4
    const previous = this.rollers.at(-1)
    if (previous !== undefined) {
      const free = this.pending
      this.spans.push({
        name: `${previous.name} → ${setup.name}`,
        length: free.length + halfArc,
        free: free.free,
        damping: free.free > 0 ? free.damped / free.free : 0,
      })
    }
    this.pending = { length: halfArc, free: 0, damped: 0 }
    return this.rollers.push(setup) - 1
  }

  carriage(setup: CarriageSetup): void {
    this.carriages.push(setup)
  }

  /** Roller `roller`, wrapped by `wrap` rad, moves with the carriage of `dancer`. */
  rides(dancer: string, roller: number, wrap: number): void {
    this.riders.push({ dancer, roller, wrap })
  }

  unwindRoll(spec: RollSpec & { film: string; woundTension: number }): void {
    const setup = { ...rollSetup(spec), material: this.material(spec.film) }
    this.unwound = { woundTension: spec.woundTension, setup }
  }

  rewindRoll(spec: RollSpec & { layOn?: LayOn | undefined }): void {
    this.rewound = { setup: rollSetup(spec), layOn: spec.layOn }
  }

  drive(maker: DriveMaker): void {
    this.makers.push(maker)
  }

  brake(name: string, roller: number, torque: number): void {
    this.drive((rollers) => new BrakeDrive(name, roller, rollers, torque))
  }

  /** A drive of a roll that asks for tension by torque; `sign` 1 winds, -1 holds back. */
  torqueDrive(name: string, roller: number, spec: TorqueDriveSpec, coreRadius: number, sign: -1 | 1): void {
    this.drive((rollers, courses) => {
      const course = new TaperCourse({ spec, coreRadius }, courses, name)
      const profile = sign < 0 ? courses.unwind : courses.line
      return new TorqueDrive(name, roller, rollers, profile, course, spec, sign)
    })
  }

  /** A drive that follows line speed, the unwind's own course, or an index feed. */
  speedDrive(name: string, roller: number, spec: DriveSpec, draw: number, feed?: FeedSpec): void {
    this.drive((rollers, courses, state) => {
      const follows = roller === 0 ? courses.unwind : courses.line
      const profile = feed === undefined ? follows : courses.feed(name, feed)
      const reference = { profile, draw: courses.setting('draw', name, draw), trim: undefined }
      return speedDrive(name, roller, spec, reference, rollers, state)
    })
  }
}

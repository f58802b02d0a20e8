/**
 * The moving line: all parts together as one system of differential equations.
 *
 * Variables    state vector, in this order: m_j of every span (m); w_i of every roller whose speed is not prescribed (rad/s);
 *              s_0 film unwound, S_w film wound (m); then what the parts ask for (line-parts.ts)
 * Equations    of the parts, in their files; ds_0/dt = q_0, dS_w/dt = q_N (film wound is integrated on its own)
 * Source       own derivation
 */
import { overlap, type Material } from '../film/film'
import { Tape } from '../film/tape'
import { WoundRecord } from '../film/wound'
import { Assembly, type LineSpec } from './assembly'
import type { Carriage } from './carriage'
import type { Correction } from './correction'
import { Courses } from './courses'
import { ServoDrive, type Drive } from './drive'
import { FreeStrain } from './free-strain'
import { makeParts } from './line-parts'
import type { Actor, Guard, Notice } from './part'
import type { Roll, RollSpec } from './roll'
import { Rollers } from './rollers'
import { Spans } from './spans'
import type { RewindChange, SpliceEvent } from './stage'
import type { Trim } from './trim'

export class Line {
  readonly spec: LineSpec
  readonly courses: Courses
  readonly tape: Tape
  readonly rollers: Rollers
  readonly spans: Spans
  readonly carriages: readonly Carriage[]
  /** position trims */
  readonly trims: readonly Trim[]
  readonly drives: readonly Drive[]
  /** what corrects a drive: position and tension trims */
  readonly corrections: readonly Correction[]
  readonly unwindRoll: Roll
  readonly rewindRoll: Roll
  /** what the film lies like on the rewind */
  readonly wound: WoundRecord
  readonly guards: readonly Guard[]
  /** names of the states, in order */
  readonly stateNames: string[] = []
  /** state indices of film unwound and film wound */
  readonly unwoundState: number
  readonly woundState: number
  /** states that a steady state does not ask about: totals, roll angles, estimates */
  readonly drifting: readonly number[]
  /** m of film booked out where a path changed */
  scrap = 0
  private readonly assembly: Assembly
  private readonly actors: readonly Actor[]
  private readonly unwoundRecord: WoundRecord
  private readonly dy: number[]

  constructor(spec: LineSpec) {
    this.spec = spec
    const assembly = (this.assembly = new Assembly(spec))
    const { unwound } = assembly
    if (unwound === undefined) throw new RangeError('a line needs an unwind')
    this.courses = new Courses(spec.speed, spec.stage, spec.run.for)
    this.tape = new Tape(unwound.setup.material)
    this.rollers = new Rollers(assembly.rollers, assembly.spans.length)
    this.spans = new Spans(assembly.spans, this.tape, this.rollers)
    this.nameFilmStates()
    this.unwoundState = this.addState('film unwound')
    this.woundState = this.addState('film wound')
    const delivered = 1 + unwound.woundTension / unwound.setup.material.stiffness
    this.unwoundRecord = new WoundRecord(delivered)
    this.wound = new WoundRecord(delivered)
    this.spans.woundIn = this.spans.woundOn = delivered
    const made = makeParts(assembly, this, (name) => this.addState(name))
    this.carriages = made.carriages
    this.trims = made.trims
    this.drives = made.drives
    this.corrections = made.corrections
    this.unwindRoll = made.unwindRoll
    this.rewindRoll = made.rewindRoll
    this.actors = [
      ...this.freeStrains(),
      ...made.carriages,
      ...made.carriages.flatMap((c) => c.cylinder ?? []),
      made.unwindRoll,
      made.rewindRoll,
      ...made.controls,
      ...made.drives,
    ]
    const { angle: turn, estimate: guess } = made.unwindRoll.states
    const { angle, estimate } = made.rewindRoll.states
    const loose = [this.unwoundState, this.woundState, turn, guess, angle, estimate]
    this.drifting = loose.filter((k) => k !== undefined)
    this.guards = this.collectGuards()
    this.dy = new Array<number>(this.stateNames.length).fill(0)
  }

  get size(): number {
    return this.stateNames.length
  }

  /** Only where the stage leads some: nobody else pays for it. */
  private freeStrains(): Actor[] {
    const films = this.spec.stage.flatMap((e) => (e.do === 'free strain' ? [e.film] : []))
    if (films.length === 0) return []
    return [new FreeStrain([...new Set(films)], this.courses, this.tape, this.rollers, this.spans)]
  }

  private addState(name: string): number {
    return this.stateNames.push(name) - 1
  }

  private nameFilmStates(): void {
    for (const name of this.spans.names) this.addState(`film held ${name}`)
    this.rollers.names.forEach((name, i) => {
      if (this.rollers.state[i] >= 0) this.addState(`turn rate of ${name}`)
    })
  }

  private collectGuards(): Guard[] {
    const { rollers, spans } = this
    const guards: Guard[] = this.actors.flatMap((a) => a.guards ?? [])
    for (let j = 0; j < spans.count; j++) guards.push(spans.slackGuard(j))
    for (let i = 0; i < rollers.count; i++) {
      guards.push(rollers.stickGuard(i, spans.force))
      guards.push(spans.edgeGuard(i, (stretch, y) => this.filmArrives(i, stretch, y)))
    }
    guards.push(this.runOutGuard())
    return guards
  }

  private runOutGuard(): Guard {
    let told = false
    return {
      name: this.rollers.names[0],
      value: (_t, y) => (told ? -1 : this.unwindRoll.emptiness(y[this.unwoundState])),
      cross: () => {
        told = true
        return { what: 'runs out', say: `The film on ${this.rollers.names[0]} runs out.` }
      },
    }
  }

  private filmArrives(i: number, stretch: number, y: number[]): void {
    if (i === this.rollers.count - 1) this.rewindRoll.layerChanges(this.tape.materials[stretch], y)
  }

  /** Writes what follows from states alone: lengths, radii, prescribed speeds, motor torques that need no tension. */
  place(t: number, y: readonly number[]): void {
    this.rollers.read(y)
    const actors = this.actors
    for (let k = 0; k < actors.length; k++) actors[k].place?.(t, y)
  }

  /**
   * Rates of change at time t (s) of state y. The returned array belongs to the line and is written again by the next call;
   * tensions, fluxes, torques of this instant stand in `spans` and `rollers` afterwards. Allocates nothing.
   */
  rates = (t: number, y: readonly number[]): number[] => {
    const { rollers, spans, actors, dy } = this
    this.place(t, y)
    spans.flow(y, this.unwoundState, dy)
    for (let k = 0; k < actors.length; k++) actors[k].act?.(t, y, dy)
    rollers.rates(spans.force, dy)
    dy[this.unwoundState] = rollers.flux[0]
    dy[this.woundState] = rollers.flux[rollers.count - 1]
    return dy
  }

  /** Tension at which film goes onto the rewind, N: that of the last span and what a lay-on roller adds. */
  woundOnTension(): number {
    const layOn = this.assembly.rewound?.layOn
    const nip = layOn === undefined ? 0 : layOn.friction * Math.min(layOn.load, layOn.saturation)
    return this.spans.force[this.spans.count - 1] + nip
  }

  /** Lets every control that is a program and due at tick number `tick` of length `length` (s) act; true when one has. */
  control(tick: number, length: number, y: number[]): boolean {
    let acted = false
    for (const c of this.corrections) acted = c.sampleAt(tick, length, y) || acted
    return acted
  }

  /** Once per recording tick: writes on the tape, and takes off it, at which stretch film lies in the rolls. */
  tick(y: readonly number[]): void {
    const { rollers, spans } = this
    const last = rollers.count - 1
    const left = -y[this.unwoundState]
    if (rollers.flux[0] < 0)
      this.unwoundRecord.note(left, spans.free[0] + spans.pull[0] * spans.give[0], spans.force[0])
    else this.unwoundRecord.comeOff(left)
    spans.woundIn = this.unwoundRecord.at(left)
    const on = y[this.woundState]
    if (rollers.flux[last] >= 0)
      this.wound.note(on, spans.free[last] + spans.pull[last - 1] * spans.give[last], this.woundOnTension())
    else this.wound.comeOff(on)
    spans.woundOn = this.wound.at(on)
  }

  /**
   * Continues the tape at the unwind with another film from another roll: an overlap, then the film. The tension of the first
   * span is continuous; where its length changes, the film held follows and the difference is booked as scrap. The line must
   * have been evaluated at y. Returns what to tell.
   */
  paste(event: SpliceEvent, y: number[]): Notice {
    const s0 = y[this.unwoundState]
    const { roll, film, patch } = event
    const before = this.tape.materials[this.rollers.material[0]]
    const next = this.assembly.material(film)
    this.spans.lay(0, this.tape.paste(s0, patch, overlap(before, next), next))
    this.replaceRoll(this.unwindRoll, 0, roll, next, y)
    // the overlap lies on the outer lap: it leaves the roll as that lap was wound
    this.unwoundRecord.replace(1 + roll.woundTension / next.stiffness)
    this.spans.woundIn = this.unwoundRecord.at(-s0)
    if (roll.spanChange !== 0) this.lengthenFirstSpan(roll.spanChange, y)
    const turn = this.rollers.state[0]
    if (event.do === 'flying splice' && turn >= 0) {
      y[turn] = (this.courses.unwind.speedAt(event.at) * (1 + event.mismatch)) / this.unwindRoll.mean
    }
    return { what: 'splice', say: `${film} is pasted to ${before.name}.` }
  }

  /** Winds on from here onto another core. Returns what to tell. */
  changeRewind(event: RewindChange, y: number[]): Notice {
    const last = this.rollers.count - 1
    const film = this.tape.materials[this.rollers.material[last]]
    this.replaceRoll(this.rewindRoll, last, event.roll, film, y)
    this.wound.replace(this.spans.woundOn)
    const turn = this.rollers.state[last]
    if (turn >= 0) y[turn] = (this.courses.line.speedAt(event.at) * (1 + event.mismatch)) / this.rewindRoll.mean
    return { what: 'event', say: `The film goes onto a new core at ${this.rollers.names[last]}.` }
  }

  private replaceRoll(
    roll: Roll,
    i: number,
    next: RollSpec & { preset?: number | undefined },
    film: Material,
    y: number[],
  ): void {
    const before = roll.mean
    roll.replace(roll.successor(next, film), next.preset ?? next.diameter, y)
    for (const drive of this.drives) {
      if (drive instanceof ServoDrive && drive.roller === i) drive.takeOver(roll.mean / before, y)
    }
  }

  private lengthenFirstSpan(change: number, y: number[]): void {
    const { spans } = this
    const before = y[0]
    spans.restLength[0] += change
    spans.length[0] += change
    spans.hold(0, spans.elastic[0], y, this.unwoundState)
    this.scrap += before - y[0]
    // what is under way stays where it is: its coordinates move with the film held behind it
    const { edges } = this.tape
    for (let k = 0; k < edges.length; k++) if (edges[k] < y[this.unwoundState]) edges[k] -= y[0] - before
  }

  /** Size of a change of each state that matters: weights of the solver and of the search for the operating point. */
  scales(): Float64Array {
    const { rollers, spans, spec } = this
    const speed = Math.max(spec.speed.start, 0.1)
    const force = Math.max(spec.speed.threadingTension, 1)
    const stretch = force / this.tape.materials[0].stiffness
    const scales = new Float64Array(this.size).fill(1)
    for (let j = 0; j < spans.count; j++) scales[j] = stretch * spans.restLength[j]
    for (let i = 0; i < rollers.count; i++) {
      if (rollers.state[i] >= 0) scales[rollers.state[i]] = speed / rollers.radius[i]
    }
    for (const actor of this.actors) actor.scale?.(scales, speed, force)
    return scales
  }

  /** Film held in all spans, m. */
  held(y: readonly number[]): number {
    let sum = 0
    for (let j = 0; j < this.spans.count; j++) sum += y[j]
    return sum
  }

  /** Unwound less wound, held and scrap, m: constant in every run. */
  balance(y: readonly number[]): number {
    return y[this.unwoundState] - y[this.woundState] - this.held(y) - this.scrap
  }
}

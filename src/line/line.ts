/**
 * The moving line: all parts together as one system of differential equations.
 *
 * Variables    state vector, in this order: m_j of every span (m); w_i of every roller whose speed is not prescribed (rad/s);
 *              s_0 film unwound, S_w film wound (m); z, z' of every carriage (m, m/s); integral of every trim; torque integral
 *              of every servo (N m)
 * Equations    of the parts, in their files; ds_0/dt = q_0, dS_w/dt = q_N (film wound is integrated on its own)
 * Source       own derivation
 */
import { overlap } from '../film/film'
import { Tape } from '../film/tape'
import { WoundRecord } from '../film/wound'
import { Assembly, type LineSpec } from './assembly'
import { Carriage } from './carriage'
import { ServoDrive, type Drive } from './drive'
import type { Actor, Guard, Notice } from './part'
import type { Profile } from './profile'
import { Roll } from './roll'
import { Rollers } from './rollers'
import { Spans } from './spans'
import { speedProfiles, type SpliceEvent } from './stage'
import { Trim } from './trim'

export class Line {
  readonly spec: LineSpec
  readonly tape: Tape
  readonly rollers: Rollers
  readonly spans: Spans
  readonly carriages: readonly Carriage[]
  readonly trims: readonly Trim[]
  readonly drives: readonly Drive[]
  readonly profile: Profile
  readonly unwindProfile: Profile
  readonly unwindRoll: Roll
  readonly rewindRoll: Roll
  readonly wound: WoundRecord
  readonly guards: readonly Guard[]
  /** names of the states, in order */
  readonly stateNames: string[] = []
  /** state indices of film unwound and film wound */
  readonly unwoundState: number
  readonly woundState: number
  /** m of film booked out where a path changed */
  scrap = 0
  private readonly assembly: Assembly
  private readonly actors: readonly Actor[]
  private readonly unwoundRecord: WoundRecord
  private readonly dy: number[]

  constructor(spec: LineSpec) {
    this.spec = spec
    const assembly = (this.assembly = new Assembly(spec))
    const { unwound, rewound } = assembly
    if (unwound === undefined || rewound === undefined) throw new RangeError('a line needs an unwind and a rewind')
    const profiles = speedProfiles(spec.speed, spec.stage)
    this.profile = profiles.line
    this.unwindProfile = profiles.unwind
    this.tape = new Tape(unwound.setup.material)
    this.rollers = new Rollers(assembly.rollers, assembly.spans.length)
    this.spans = new Spans(assembly.spans, this.tape, this.rollers)
    this.nameFilmStates()
    this.unwoundState = this.addState('film unwound')
    this.woundState = this.addState('film wound')
    this.unwindRoll = new Roll(this.rollers, 0, -1, unwound.setup)
    const last = this.rollers.count - 1
    const rewindSetup = { ...rewound, material: unwound.setup.material }
    this.rewindRoll = new Roll(this.rollers, last, 1, rewindSetup)
    const delivered = 1 + unwound.woundTension / unwound.setup.material.stiffness
    this.unwoundRecord = new WoundRecord(delivered)
    this.wound = new WoundRecord(delivered)
    this.carriages = this.makeCarriages()
    this.trims = this.makeTrims()
    this.drives = this.makeDrives()
    this.actors = [...this.carriages, ...this.trims, ...this.drives]
    this.guards = this.collectGuards()
    this.dy = new Array<number>(this.stateNames.length).fill(0)
    this.spans.woundIn = this.unwoundRecord.at(0)
    this.spans.woundOn = this.spans.woundIn
  }

  get size(): number {
    return this.stateNames.length
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

  private makeCarriages(): Carriage[] {
    const carriages = this.assembly.carriages.map((setup) => {
      const state = this.addState(`position of ${setup.name}`)
      this.addState(`speed of ${setup.name}`)
      return new Carriage(setup, state, this.spans)
    })
    for (const rider of this.assembly.riders) {
      carriages.find((c) => c.name === rider.dancer)?.carry(rider.roller - 1, rider.share)
    }
    return carriages
  }

  private makeTrims(): Trim[] {
    return this.spec.control.map((spec) => {
      const dancer = this.carriages.find((c) => c.name === spec.measures)
      if (dancer === undefined) throw new RangeError(`no dancer named ${spec.measures}`)
      const roller = this.rollers.names.indexOf(spec.drives)
      const upstream = roller <= Math.min(...dancer.spans)
      return new Trim(spec, dancer, upstream ? -1 : 1, this.addState(`integral of the trim of ${spec.drives}`))
    })
  }

  private makeDrives(): Drive[] {
    return this.assembly.makers.map((make, k) => {
      const profile = k === 0 ? this.unwindProfile : this.profile
      const drive = make(this.rollers, profile, () => this.addState('torque integral of a servo'))
      const trim = this.trims.find((t) => t.spec.drives === drive.name)
      if (drive.reference !== undefined) drive.reference.trim = trim
      return drive
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
    const material = this.tape.materials[stretch]
    if (i === this.rollers.count - 1) this.rewindRoll.layerChanges(material, y[this.woundState])
  }

  /**
   * Rates of change at time t (s) of state y. The returned array belongs to the line and is written again by the next call;
   * tensions, fluxes, torques of this instant stand in `spans` and `rollers` afterwards. Allocates nothing.
   */
  rates = (t: number, y: readonly number[]): number[] => {
    const { rollers, spans, actors, dy } = this
    rollers.read(y)
    this.unwindRoll.place(y[this.unwoundState])
    this.rewindRoll.place(y[this.woundState])
    for (let k = 0; k < actors.length; k++) actors[k].place?.(t, y)
    spans.flow(y, this.unwoundState, dy)
    this.unwindRoll.grow()
    this.rewindRoll.grow()
    for (let k = 0; k < actors.length; k++) actors[k].act?.(t, y, dy)
    rollers.rates(spans.force, dy)
    dy[this.unwoundState] = rollers.flux[0]
    dy[this.woundState] = rollers.flux[rollers.count - 1]
    return dy
  }

  /** Takes the piece of every speed profile that begins at or holds `t` (s). */
  enter(t: number): void {
    this.profile.enter(t)
    this.unwindProfile.enter(t)
  }

  /** Once per recording tick: writes on the tape, and takes off it, at which stretch film lies in the rolls. */
  tick(y: readonly number[]): void {
    const { rollers, spans } = this
    const last = rollers.count - 1
    const left = -y[this.unwoundState]
    if (rollers.flux[0] < 0) {
      this.unwoundRecord.note(left, 1 + spans.pull[0] * spans.give[0])
    } else this.unwoundRecord.comeOff(left)
    spans.woundIn = this.unwoundRecord.at(left)
    const on = y[this.woundState]
    if (rollers.flux[last] >= 0) {
      this.wound.note(on, 1 + spans.pull[last - 1] * spans.give[last])
    } else this.wound.comeOff(on)
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
    this.unwindRoll.replace(
      { radius: roll.diameter / 2, coreRadius: roll.core / 2, coreInertia: roll.coreInertia, material: next },
      s0,
    )
    // the overlap lies on the outer lap: it leaves the roll as that lap was wound
    this.unwoundRecord.replace(1 + roll.woundTension / next.stiffness)
    this.spans.woundIn = this.unwoundRecord.at(-s0)
    if (roll.spanChange !== 0) this.lengthenFirstSpan(roll.spanChange, y)
    const turn = this.rollers.state[0]
    if (event.do === 'flying splice' && turn >= 0) {
      y[turn] = (this.unwindProfile.speedAt(event.at) * (1 + event.mismatch)) / this.rollers.radius[0]
    }
    return { what: 'splice', say: `${film} is pasted to ${before.name}.` }
  }

  private lengthenFirstSpan(change: number, y: number[]): void {
    const { spans } = this
    const before = y[0]
    spans.restLength[0] += change
    spans.length[0] += change
    spans.hold(0, spans.elastic[0], y, this.unwoundState)
    this.scrap += before - y[0]
  }

  /** Film held in all spans, m. */
  held(y: readonly number[]): number {
    let sum = 0
    for (let j = 0; j < this.spans.count; j++) sum += y[j]
    return sum
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
    for (const c of this.carriages) {
      scales[c.state] = 1e-3
      scales[c.state + 1] = 0.1 * speed
    }
    for (const t of this.trims) scales[t.state] = 1e-3
    for (const d of this.drives) {
      if (d instanceof ServoDrive) scales[d.state] = force * rollers.radius[d.roller]
    }
    return scales
  }

  /** Unwound less wound, held and scrap, m: constant in every run. */
  balance(y: readonly number[]): number {
    return y[this.unwoundState] - y[this.woundState] - this.held(y) - this.scrap
  }
}

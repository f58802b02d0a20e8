/**
 * The courses of a run: every quantity that the stage leads through time, as a profile.
 *
 * Variables    line speed, speed of the unwind, speed of every indexing roller (m/s); draws, dancer forces and set points,
 *              winding tensions and tapers
 * Equations    zero-speed splice: stage.ts; index feed: feed.ts; everything else is a ramp
 * Neglected    nothing
 * Source       kinematics
 */
import { addCycles, feedSpeed, type FeedSpec } from './feed'
import { Profile } from './profile'
import {
  isRamp,
  rampDuration,
  spliceTimes,
  type Changeover,
  type RampEvent,
  type StageEvent,
  type ZeroSpeedSplice,
} from './stage'
import type { SpeedSpec } from './speed'

/** How the ramp of a changed setting is rounded. */
const SETTING_ROUNDING = 0.25

/** What may be led besides speed. */
export type Setting =
  'draw' | 'dancer force' | 'set point' | 'winding tension' | 'taper' | 'free strain' | 'dancer pressure'

export class Courses {
  readonly line: Profile
  readonly unwind: Profile
  private readonly all: Profile[]
  private readonly feeds = new Map<string, Profile>()
  private readonly speed: SpeedSpec
  private readonly stage: readonly StageEvent[]
  private readonly duration: number

  /** `stage` must have passed the scenario's checks (time order, no overlaps); `duration` is that of the run, s. */
  constructor(speed: SpeedSpec, stage: readonly StageEvent[], duration: number) {
    this.speed = speed
    this.stage = stage
    this.duration = duration
    this.line = new Profile(speed.start)
    this.unwind = new Profile(speed.start)
    this.all = [this.line, this.unwind]
    for (const event of stage) {
      if (event.do === 'zero-speed splice')
        spliceProfile(this.unwind, event, this.line.speedAt(event.at), speed.rounding)
      if (isRamp(event)) this.ramp(event, this.unwind, this.line)
    }
  }

  /** Adds the ramp of a speed event to profiles; the last of them tells the speed it starts from. */
  private ramp(event: RampEvent, ...profiles: Profile[]): void {
    const target = event.do === 'stop' ? 0 : event.to
    const from = profiles[profiles.length - 1].speedAt(event.at)
    const takes = rampDuration({ in: event.in, to: target }, from, this.speed)
    for (const p of profiles) p.ramp(event.at, target, takes, event.rounding ?? this.speed.rounding)
  }

  /** Speed course of a roller that changes over to an index feed and back. */
  feed(roller: string, feed: FeedSpec): Profile {
    const known = this.feeds.get(roller)
    if (known !== undefined) return known
    const profile = new Profile(this.speed.start)
    const changes = this.stage.filter((e): e is Changeover => e.do === 'changeover' && e.roller === roller)
    for (const event of this.stage) {
      if (isRamp(event)) this.ramp(event, profile)
      if (event.do === 'changeover' && event.roller === roller) {
        const next = changes[changes.indexOf(event) + 1]
        this.changeOver(profile, feed, event, next?.at ?? this.duration)
      }
    }
    this.feeds.set(roller, profile)
    this.all.push(profile)
    return profile
  }

  private changeOver(profile: Profile, feed: FeedSpec, event: Changeover, until: number): void {
    const base = this.line.speedAt(event.at)
    if (event.to === 'continuous') {
      profile.ramp(event.at, base, event.in, 0)
      return
    }
    const cycle = feed.pitch / base
    const phase = (event.phase % 1) * cycle
    profile.ramp(event.at, feedSpeed(feed, phase), event.in, 0)
    addCycles(profile, feed, cycle, event.at + event.in, phase, until)
  }

  /** Course of a setting of the named part that starts at `start`. */
  setting(what: Setting, part: string, start: number): Profile {
    const profile = new Profile(start)
    for (const event of this.stage) {
      const to = settingOf(what, part, event)
      if (to !== undefined) profile.ramp(event.at, to.value, to.in, SETTING_ROUNDING)
    }
    this.all.push(profile)
    return profile
  }

  /** Takes the piece of every course that begins at or holds `t` (s). */
  enter(t: number): void {
    for (const p of this.all) p.enter(t)
  }

  /** Times at which any course has a corner, s. */
  corners(): number[] {
    return this.all.flatMap((p) => p.corners())
  }
}

function settingOf(what: Setting, part: string, e: StageEvent): { value: number; in: number } | undefined {
  if (e.do === 'winding tension' && e.roller === part) {
    if (what === 'winding tension') return { value: e.to, in: e.in }
    return what === 'taper' && e.taper !== undefined ? { value: e.taper, in: e.in } : undefined
  }
  if (e.do === 'free strain') return what === e.do && e.film === part ? { value: e.to, in: e.in } : undefined
  if (e.do === 'draw' && what === 'draw' && e.roller === part) return { value: e.to, in: e.in }
  const dancers = e.do === 'dancer force' || e.do === 'dancer pressure' || e.do === 'set point'
  return dancers && e.do === what && e.dancer === part ? { value: e.to, in: e.in } : undefined
}

function spliceProfile(unwind: Profile, s: ZeroSpeedSplice, v: number, round: number): void {
  const times = spliceTimes(s)
  unwind.ramp(s.at, 0, s.rampDown, round)
  unwind.ramp(s.at + times.rise, v * (1 + times.refill), s.rampUp * (1 + times.refill), round)
  if (times.refill > 0) unwind.ramp(s.at + times.back, v, s.rampUp * times.refill, round)
}

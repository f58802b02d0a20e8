/**
 * A run: from tick to tick over line time. Ticks end early at every item of the agenda and at every switch. At an instant the order
 * is: staged actions, switching, controllers, record.
 */
import { operatingPoint } from '../line/rest'
import { Line } from '../line/line'
import type { LineSpec } from '../line/assembly'
import type { LimitsSpec, RunSpec } from '../scenario/settings'
import { agendaOf, type Item } from './agenda'
import { channelsOf } from './channels'
import { Integrator, NotFinite, TooStiff } from './integrate'
import type { Failed, Outcome } from './outcome'
import { paceOf, type Pace } from './pace'
import { planOf } from './plan'
import type { Block, RunPlan } from './record'
import { Recorder } from './recorder'
import { summarise, Tally } from './summarise'
import { Chatter, Switching } from './switching'
import { Watch } from './watch'

/** What a run needs of a scenario. */
export interface RunScenario extends LineSpec {
  readonly title: string
  readonly limits: LimitsSpec
  readonly run: RunSpec
}

/** Most switches within one tick before the run is given up. */
const MOST_SWITCHES = 2000

/** Makes a scenario that has passed its checks ready to run; `failed` when it has no state to start from. */
export function begin(scenario: RunScenario): Run | Failed {
  const line = new Line(scenario)
  const start = operatingPoint(line)
  if (!start.ok) return { outcome: 'failed', at: 0, state: start.state, say: start.say }
  try {
    return new Run(scenario, line, start.y)
  } catch (error) {
    return broken(error, 0)
  }
}

export class Run {
  readonly plan: RunPlan
  readonly line: Line
  readonly watch: Watch
  readonly tally: Tally
  time = 0
  y: number[]
  private readonly agenda: Item[]
  private readonly integrator: Integrator
  private readonly switching: Switching
  private readonly recorder: Recorder
  private nextItem = 0
  private ticks = 0
  private before: number[]
  private endedEarly = false

  constructor(scenario: RunScenario, line: Line, y: number[]) {
    this.line = line
    this.y = y
    this.before = y
    const pace = paceOf(line, 0, y)
    const sources = channelsOf(line)
    this.plan = planOf(scenario, line, pace, sources)
    this.agenda = agendaOf(line)
    this.integrator = new Integrator(line, line.scales(), scenario.run.tolerance, longestStep(pace, scenario.run.tick))
    this.switching = new Switching(line)
    this.recorder = new Recorder(sources)
    this.watch = new Watch(line, 0.9 * scenario.run.for)
    this.tally = new Tally(line)
    this.arrive(0, false)
    if (line.control(0, this.plan.tick, this.y)) this.settle(0)
    this.tally.begin(line, this.y)
    this.recorder.sample(0, this.y)
  }

  get happenings() {
    return this.recorder.happenings
  }

  /** Advances one recording tick. Returns the outcome once the run has ended, undefined before. */
  step(): Outcome | undefined {
    const { duration, tick } = this.plan
    const end = Math.min((this.ticks + 1) * tick, duration)
    try {
      while (this.time < end && !this.endedEarly) this.toNextInstant(end)
    } catch (error) {
      return broken(error, this.time)
    }
    this.ticks++
    if (this.time < duration * (1 - 1e-12) && !this.endedEarly) return undefined
    const { steps, evaluations } = this.integrator
    const solver = { steps, evaluations, events: this.switching.events }
    return { outcome: 'finished', summary: summarise(this, solver) }
  }

  /** Samples recorded since the last call, as one whole buffer; undefined when there are none. */
  takeBlock(): Block | undefined {
    return this.recorder.takeBlock()
  }

  private toNextInstant(end: number): void {
    const item = this.agenda[this.nextItem]
    const until = item === undefined ? end : Math.min(end, item.at)
    if (until > this.time) this.smoothTo(until)
    if (this.endedEarly) return
    const jumped = this.arrive(until, true)
    if (until === end && this.line.control(this.ticks + 1, this.plan.tick, this.y)) this.settle(until)
    if (until === end) this.line.tick(this.y)
    if (until === end || jumped) this.recorder.sample(until, this.y, jumped)
  }

  /** Does what the agenda has for instant t and settles all discrete states. True when states may have jumped. */
  private arrive(t: number, record: boolean): boolean {
    let jumped = false
    this.line.courses.enter(t)
    for (
      let item = this.agenda[this.nextItem];
      item !== undefined && item.at <= t;
      item = this.agenda[++this.nextItem]
    ) {
      this.line.rates(t, this.y)
      if (item.jump && record) this.recorder.sample(t, this.y)
      const told = item.act?.(this.y)
      if (told !== undefined) this.recorder.tell({ at: t, part: told.part, ...told.notice })
      jumped ||= item.jump
    }
    this.settle(t)
    this.time = t
    return jumped
  }

  private settle(t: number): void {
    this.switching.settle(t, this.y, (guard, notice) => {
      this.recorder.tell({ at: t, part: guard.name, ...notice })
      if (notice.what === 'runs out') this.endedEarly = true
    })
    this.watch.begin(t, this.y)
    this.tally.switched(t)
  }

  /** Integrates to `until`, switching where guards are crossed. */
  private smoothTo(until: number): void {
    for (let switches = 0; this.time < until && !this.endedEarly; switches++) {
      if (switches > MOST_SWITCHES) throw new Chatter(this.time, this.switching.lastPart)
      this.before = this.y
      let crossing: { from: number; y0: number[]; to: number; y1: number[] } | undefined
      const y = this.integrator.advance(this.time, this.y, until, (from, t, state) => {
        this.line.rates(t, state)
        if (this.switching.crossed(t, state)) {
          crossing = { from, y0: this.before, to: t, y1: state }
          return false
        }
        this.watch.step(from, t, state)
        this.before = state
        return true
      })
      if (crossing === undefined) {
        this.y = y
        this.time = until
        return
      }
      this.passCrossing(crossing)
    }
  }

  private passCrossing({ from, y0, to, y1 }: { from: number; y0: number[]; to: number; y1: number[] }): void {
    const { t, y } = this.switching.locate(this.integrator, from, y0, to, y1)
    this.line.rates(t, y)
    this.watch.step(from, t, y)
    this.y = y
    this.time = t
    this.settle(t)
  }
}

/** What broke a run off at `at` (s). */
function broken(error: unknown, at: number): Failed {
  if (error instanceof NotFinite) {
    const say = `The ${error.state} runs off to infinity. Look there for a figure far outside its usual range.`
    return { outcome: 'failed', at: error.at, state: error.state, say }
  }
  if (error instanceof TooStiff) {
    const say =
      'The line moves faster than it can be followed. Look for a very light roller, a very short span or a large film damping.'
    return { outcome: 'failed', at, state: 'time', say }
  }
  if (error instanceof Chatter) {
    const say = `${error.part} switches to and fro without an end. Give it a little damping or drag, or more mass.`
    return { outcome: 'failed', at: error.at, state: error.part, say }
  }
  throw error
}

/** A third of the fastest lively period: a cubic through the ends of a step then follows that mode's peaks within 5 % of its share. */
function longestStep(pace: Pace, tick: number): number {
  return pace.fastestMode > 0 ? Math.min(tick, (2 * Math.PI) / (3 * pace.fastestMode)) : tick
}

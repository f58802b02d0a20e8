/** Makes the figures of a finished run. */
import type { Line } from '../line/line'
import type { Run } from './run'
import type { DancerSummary, DriveSummary, FilmSummary, RollerSummary, SpanSummary, Summary } from './summary'

/** Counts what is neither a sample nor an extreme: seconds slack and on a stop, and the start. */
export class Tally {
  readonly slackSeconds: number[]
  readonly stopSeconds: number[]
  startTension: number[] = []
  startPosition: number[] = []
  startHeld = 0
  private readonly line: Line
  private since = 0
  private slack: boolean[]
  private onStop: boolean[]

  constructor(line: Line) {
    this.line = line
    this.slackSeconds = line.spans.names.map(() => 0)
    this.stopSeconds = line.carriages.map(() => 0)
    this.slack = line.spans.names.map(() => false)
    this.onStop = line.carriages.map(() => false)
  }

  begin(line: Line, y: readonly number[]): void {
    this.startTension = Array.from(line.spans.force)
    this.startPosition = line.carriages.map((c) => y[c.state])
    this.startHeld = line.held(y)
  }

  /** Discrete states may have changed at t (s): books the time since the last call to the states that held until now. */
  switched(t: number): void {
    const passed = t - this.since
    this.slack.forEach((slack, j) => {
      if (slack) this.slackSeconds[j] += passed
    })
    this.onStop.forEach((on, k) => {
      if (on) this.stopSeconds[k] += passed
    })
    this.since = t
    for (let j = 0; j < this.slack.length; j++) this.slack[j] = this.line.spans.taut[j] === 0
    this.line.carriages.forEach((c, k) => (this.onStop[k] = c.on === 'lower stop' || c.on === 'upper stop'))
  }
}

export function summarise(run: Run, solver: Summary['solver']): Summary {
  run.tally.switched(run.time)
  return {
    title: run.plan.title,
    spans: spans(run),
    dancers: dancers(run),
    rollers: rollers(run),
    drives: drives(run),
    film: film(run),
    happenings: run.happenings,
    solver,
  }
}

function spans(run: Run): SpanSummary[] {
  const { line, watch, tally } = run
  return line.spans.names.map((name, j) => ({
    name,
    tension: { start: tally.startTension[j], end: line.spans.force[j], ...watch.tension.of(j) },
    limitShare: watch.share.max[j],
    limitAt: watch.share.atMax[j],
    slackSeconds: tally.slackSeconds[j],
  }))
}

function dancers(run: Run): DancerSummary[] {
  const { line, watch, tally, y } = run
  return line.carriages.map((c, k) => {
    const { min, max, atMin, atMax } = watch.position.of(k)
    const late = watch.latePosition.of(k)
    return {
      name: c.name,
      start: tally.startPosition[k],
      end: y[c.state],
      min,
      max,
      atMin,
      atMax,
      travelUsed: (max - min) / (c.setup.upperStop - c.setup.lowerStop),
      stopSeconds: tally.stopSeconds[k],
      ripple: late.max - late.min,
    }
  })
}

function rollers(run: Run): RollerSummary[] {
  const { rollers } = run.line
  return rollers.names.map((name, i) => {
    const { margin, at } = run.watch.leastMargin(i)
    return { name, tractionMargin: rollers.nip[i] ? null : margin, at }
  })
}

function drives(run: Run): DriveSummary[] {
  return run.line.drives.map((d, k) => {
    const { min, max, atMin, atMax } = run.watch.torque.of(k)
    const peakTorque = Math.max(Math.abs(min), Math.abs(max))
    const peakAt = Math.abs(min) > Math.abs(max) ? atMin : atMax
    return { name: d.name, peakTorque, peakAt, limitShare: d.limit === undefined ? null : peakTorque / d.limit }
  })
}

function film(run: Run): FilmSummary {
  const { line, y, tally } = run
  return {
    unwound: y[line.unwoundState],
    wound: y[line.woundState],
    held: line.held(y),
    scrap: line.scrap,
    imbalance: line.balance(y) + tally.startHeld,
  }
}

/** Watches tensions, shares of the limit, dancers, grip and torques of a line through every solver step. */
import type { Line } from '../line/line'
import { Extremes } from './extremes'

export class Watch {
  /** N, of every span */
  readonly tension: Extremes
  /** strain over the elastic limit strain of the film that carries it */
  readonly share: Extremes
  /** m, of every dancer */
  readonly position: Extremes
  /** m, in the last tenth of the run only */
  readonly latePosition: Extremes
  /** tension ratio high over low at every roller */
  readonly ratio: Extremes
  /** N m, of every drive */
  readonly torque: Extremes
  private readonly line: Line
  private readonly late: number
  private readonly elastic: Float64Array
  private readonly rate: Float64Array
  private readonly z: Float64Array
  private readonly speed: Float64Array
  private readonly limit: Float64Array

  /** @param late s, when the last tenth of the run begins */
  constructor(line: Line, late: number) {
    this.line = line
    this.late = late
    const { spans, carriages, rollers, drives } = line
    this.tension = new Extremes(spans.count)
    this.share = new Extremes(spans.count)
    this.position = new Extremes(carriages.length)
    this.latePosition = new Extremes(carriages.length)
    this.ratio = new Extremes(rollers.count)
    this.torque = new Extremes(drives.length)
    this.elastic = new Float64Array(spans.count)
    this.rate = new Float64Array(spans.count)
    this.limit = new Float64Array(spans.count)
    this.z = new Float64Array(carriages.length)
    this.speed = new Float64Array(carriages.length)
  }

  /** Begins a stretch of continuous solution. The line has been evaluated at (t, y). */
  begin(t: number, y: readonly number[]): void {
    const { spans } = this.line
    for (let j = 0; j < spans.count; j++) {
      this.limit[j] = spans.limitTension(j)
      this.tension.see(j, spans.force[j], t)
      this.share.see(j, spans.pull[j] / this.limit[j], t)
    }
    this.keep(t, y)
  }

  /** Takes in the step from `before` to t. The line has been evaluated at (t, y), and `begin` or `step` ended at `before`. */
  step(before: number, t: number, y: readonly number[]): void {
    const h = t - before
    this.stepSpans(before, h)
    const { carriages } = this.line
    for (let k = 0; k < carriages.length; k++) {
      const state = carriages[k].state
      this.position.seeCubic(k, this.z[k], this.speed[k], y[state], y[state + 1], before, h, 0)
      if (before < this.late) continue
      this.latePosition.seeCubic(k, this.z[k], this.speed[k], y[state], y[state + 1], before, h, 0)
    }
    this.keep(t, y)
  }

  private stepSpans(before: number, h: number): void {
    const { spans } = this.line
    const { taut, elastic, elasticRate, damping } = spans
    for (let j = 0; j < spans.count; j++) {
      if (taut[j] === 0) continue
      const f0 = this.elastic[j]
      const d0 = this.rate[j]
      this.tension.seeCubic(j, f0, d0, elastic[j], elasticRate[j], before, h, damping[j])
      // damping may ask for a push, which film cannot give
      if (this.tension.min[j] < 0) this.tension.min[j] = 0
      const scale = 1 / this.limit[j]
      this.share.seeCubic(j, f0 * scale, d0 * scale, elastic[j] * scale, elasticRate[j] * scale, before, h, 0)
    }
  }

  private keep(t: number, y: readonly number[]): void {
    const { spans, carriages, rollers, drives } = this.line
    const force = spans.force
    this.elastic.set(spans.elastic)
    this.rate.set(spans.elasticRate)
    for (let k = 0; k < carriages.length; k++) {
      this.z[k] = y[carriages[k].state]
      this.speed[k] = y[carriages[k].state + 1]
      this.position.see(k, this.z[k], t)
      if (t >= this.late) this.latePosition.see(k, this.z[k], t)
    }
    for (let i = 1; i < rollers.count - 1; i++) {
      const before = force[i - 1]
      const after = force[i]
      if (before !== after) this.ratio.see(i, before > after ? before / after : after / before, t)
    }
    for (let k = 0; k < drives.length; k++) this.torque.see(k, rollers.motor[drives[k].roller], t)
  }

  /** Least traction margin of roller i and when, see rollers.ts; 1 where the tensions never differed. */
  leastMargin(i: number): { margin: number; at: number } {
    return { margin: this.line.rollers.tractionMargin(i, Math.max(1, this.ratio.max[i])), at: this.ratio.atMax[i] }
  }
}

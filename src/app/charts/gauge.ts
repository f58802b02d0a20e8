/**
 * Tension in the measure that is read: as a force, per width, as stress, or as strain.
 *
 * Equations    N/m: F/W;  stress: F/(W h);  strain: F/(EA). Where several films lie in a span: of the one that is strained most
 *              for its limit, which the run's own limit (N) tells
 * Source       definitions
 */
import * as v from 'valibot'
import { materialOf, overlap, type Material } from '../../film/film'
import { isSplice } from '../../line/stage'
import type { Extreme } from '../../run/record'
import { scenarioSchema } from '../../scenario/schema'
import type { Measure } from '../shown'
import type { Trace } from '../state/trace'
import { scaledTo, stretchesOf, always } from './levels'
import type { Stretch } from './picture'

/** Figures of the film that turn a force (N) into the other measures. */
type Factors = Readonly<Record<Measure, number>>

interface Film extends Factors {
  /** N */
  readonly limit: number
}

const filmOf = ({ width, thickness, stiffness, elasticLimit }: Material): Film => ({
  limit: stiffness * elasticLimit,
  force: 1,
  forcePerWidth: 1 / width,
  stress: 1 / (width * thickness),
  strain: 1 / stiffness,
})

/** All that can lie in a span: the films in the order in which they come, and each pasted on the one before. */
export function filmsOf(document: unknown): Film[] {
  const read = v.safeParse(scenarioSchema, document)
  if (!read.success) return []
  const { films, line, stage } = read.output
  const [unwind] = line
  const names = [
    ...(unwind?.part === 'unwind' ? [unwind.film] : []),
    ...stage.flatMap((e) => (isSplice(e) ? [e.film] : [])),
  ]
  const materials = names.flatMap((name) => (films[name] ? [materialOf(name, films[name])] : []))
  return materials.flatMap((material, k) => {
    const before = materials[k - 1]
    return before ? [filmOf(overlap(before, material)), filmOf(material)] : [filmOf(material)]
  })
}

/** A recorded tension in another measure; grows with its trace. */
interface Column {
  values: Float64Array
  count: number
  readonly extreme: Extreme
  /** Samples at which another film comes in: its stress is not that of the one before, and the pen lifts. */
  readonly changes: number[]
}

export interface Recorded {
  readonly values: Float64Array
  readonly extreme: Extreme | undefined
  readonly lifts: readonly number[]
}

export class Gauge {
  readonly #films: readonly Film[]
  readonly #columns = new Map<number, Column>()

  constructor(
    private readonly trace: Trace,
    readonly measure: Measure,
  ) {
    this.#films = measure === 'force' ? [] : filmsOf(trace.document)
  }

  /** What a force counts while the limit is so high (N). */
  factor(limit: number): number {
    if (this.measure === 'force') return 1
    const off = (film: Film) => Math.abs(film.limit - limit)
    const near = this.#films.reduce<Film | undefined>(
      (best, film) => (best && off(best) <= off(film) ? best : film),
      undefined,
    )
    return near?.[this.measure] ?? NaN
  }

  /** Whether another film comes into this span, so that its factor changes. */
  changes(span: string): boolean {
    const channel = this.trace.limitOf(span)
    if (this.measure === 'force' || channel === undefined) return false
    const limits = this.trace.values(channel)
    return limits.some((limit) => limit !== limits[0])
  }

  /** Limit of a span at each stretch of time, in this measure. */
  limits(span: string, elasticTension: number): Stretch[] {
    return scaledTo(this.#limitStretches(span, elasticTension), (limit) => limit * this.factor(limit))
  }

  /** A force (N) that holds whatever film comes, such as the least tension. */
  level(force: number, span: string, elasticTension: number): Stretch[] {
    return scaledTo(this.#limitStretches(span, elasticTension), (limit) => force * this.factor(limit))
  }

  #limitStretches(span: string, elasticTension: number): Stretch[] {
    const channel = this.trace.limitOf(span)
    if (channel === undefined || this.trace.count === 0) return always(elasticTension)
    return stretchesOf(this.trace.time, this.trace.values(channel), 1)
  }

  /** Samples of a tension channel so far, and their extremes. */
  column(index: number): Recorded {
    const { trace } = this
    const { lifts } = trace
    if (this.measure === 'force') return { values: trace.values(index), extreme: trace.extremes[index], lifts }
    const column = this.#columns.get(index) ?? emptyColumn()
    this.#columns.set(index, column)
    this.#extend(column, index)
    const { values, count, extreme, changes } = column
    const all = changes.length === 0 ? lifts : [...new Set([...lifts, ...changes])].sort((a, b) => a - b)
    return { values: values.subarray(0, count), extreme, lifts: all }
  }

  /** Extremes as the run found them between its samples (N), in this measure; where another film comes in, by the samples. */
  extreme(index: number, exact: Extreme | undefined): Extreme | undefined {
    const name = this.trace.plan.channels[index]?.name ?? ''
    if (!exact || this.changes(name)) return this.column(index).extreme
    const factor = this.factor(this.#firstLimit(name))
    return { min: exact.min * factor, max: exact.max * factor, atMin: exact.atMin, atMax: exact.atMax }
  }

  /** Tension that a span starts with (N), in this measure. */
  start(name: string, force: number): number {
    return force * this.factor(this.#firstLimit(name))
  }

  #firstLimit(name: string): number {
    const channel = this.trace.limitOf(name)
    const fixed = this.trace.plan.spans.find((span) => span.name === name)?.elasticTension ?? NaN
    return (channel === undefined ? undefined : this.trace.values(channel)[0]) ?? fixed
  }

  #extend(column: Column, index: number): void {
    const { trace } = this
    const forces = trace.values(index)
    const span = trace.plan.channels[index]?.name ?? ''
    const channel = trace.limitOf(span)
    const limits = channel === undefined ? undefined : trace.values(channel)
    const fixed = trace.plan.spans.find(({ name }) => name === span)?.elasticTension ?? NaN
    if (column.values.length < forces.length) {
      const larger = new Float64Array(Math.max(forces.length, column.values.length * 2))
      larger.set(column.values.subarray(0, column.count))
      column.values = larger
    }
    let limit = NaN
    let factor = NaN
    for (let i = column.count; i < forces.length; i++) {
      const now = limits?.[i] ?? fixed
      if (now !== limit) {
        if (i > 0 && now !== (limits?.[i - 1] ?? fixed)) column.changes.push(i)
        limit = now
        factor = this.factor(now)
      }
      const value = (forces[i] ?? NaN) * factor
      column.values[i] = value
      widen(column.extreme, value, trace.time[i] ?? 0)
    }
    column.count = forces.length
  }
}

const emptyColumn = (): Column => ({
  values: new Float64Array(),
  count: 0,
  extreme: { min: Infinity, max: -Infinity, atMin: 0, atMax: 0 },
  changes: [],
})

function widen(extreme: Extreme, value: number, time: number): void {
  if (value < extreme.min) [extreme.min, extreme.atMin] = [value, time]
  if (value > extreme.max) [extreme.max, extreme.atMax] = [value, time]
}

const gauges = new WeakMap<Trace, Map<Measure, Gauge>>()

/** One for each trace and measure, for as long as the trace is kept. */
export function gaugeOf(trace: Trace, measure: Measure): Gauge {
  const known = gauges.get(trace) ?? new Map<Measure, Gauge>()
  gauges.set(trace, known)
  const gauge = known.get(measure) ?? new Gauge(trace, measure)
  known.set(measure, gauge)
  return gauge
}

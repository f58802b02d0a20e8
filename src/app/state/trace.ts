/** The record of one run as it arrives: one growing column for time and each channel. */
import type { Block, Channel, ChannelGroup, Extreme, Happening, RunPlan } from '../../run/record'

export class Trace {
  count = 0
  readonly lifts: number[] = []
  readonly happenings: Happening[] = []
  /** Whole run recorded. */
  complete = false
  /** Of the samples so far, by channel. */
  readonly extremes: Extreme[]
  /** Greatest share of the elastic limit so far, by name of span. */
  readonly shares = new Map<string, number>()
  readonly #strains: readonly Strain[]
  /** Column 0 is time, column k + 1 is channel k; longer than `count`. */
  #columns: Float64Array[]

  /** @param document what was run, as it was handed over */
  constructor(
    readonly plan: RunPlan,
    readonly document: unknown = null,
  ) {
    const expected = Math.ceil(plan.duration / plan.tick) + 64
    this.#columns = Array.from({ length: plan.channels.length + 1 }, () => new Float64Array(expected))
    this.extremes = plan.channels.map(() => ({ min: Infinity, max: -Infinity, atMin: 0, atMax: 0 }))
    this.#strains = this.group('tension').map(({ channel: { name }, index }) => {
      const elastic = plan.spans.find((limits) => limits.name === name)?.elasticTension ?? Infinity
      return { name, tension: index, limit: this.limitOf(name), elastic }
    })
  }

  append(block: Block): void {
    const { from, count, data } = block
    this.#reserve(from + count)
    this.#columns.forEach((column, c) => column.set(data.subarray(c * count, (c + 1) * count), from))
    this.count = from + count
    this.extremes.forEach((extreme, k) => widen(extreme, this.values(k), this.time, from))
    for (const strain of this.#strains) this.#strain(strain, from)
    this.lifts.push(...block.lifts)
    this.happenings.push(...block.happenings)
  }

  /** The channel of a span's elastic limit, where a splice may change it. */
  limitOf(span: string): number | undefined {
    const index = this.plan.channels.findIndex(({ key }) => key === `limit/${span}`)
    return index < 0 ? undefined : index
  }

  #strain({ name, tension, limit, elastic }: Strain, from: number): void {
    const forces = this.values(tension)
    const limits = limit === undefined ? undefined : this.values(limit)
    let share = this.shares.get(name) ?? 0
    for (let i = from; i < forces.length; i++) {
      share = Math.max(share, (forces[i] ?? 0) / (limits?.[i] ?? elastic))
    }
    this.shares.set(name, share)
  }

  #reserve(count: number): void {
    const have = this.#columns[0]?.length ?? 0
    if (count <= have) return
    this.#columns = this.#columns.map((column) => {
      const larger = new Float64Array(Math.max(count, have * 2))
      larger.set(column)
      return larger
    })
  }

  get time(): Float64Array {
    return this.#column(0)
  }

  /** Samples of channel k so far; a view, valid until the next block. */
  values(k: number): Float64Array {
    return this.#column(k + 1)
  }

  #column(c: number): Float64Array {
    const column = this.#columns[c]
    if (!column) throw new Error(`A run with ${this.#columns.length - 1} channels was asked for column ${c}.`)
    return column.subarray(0, this.count)
  }

  /** s, time of the last sample */
  get reached(): number {
    return this.time[this.count - 1] ?? 0
  }

  /** Channels of a group with their numbers. */
  group(group: ChannelGroup): NumberedChannel[] {
    return this.plan.channels
      .map((channel, index) => ({ channel, index }))
      .filter(({ channel }) => channel.group === group)
  }
}

function widen(extreme: Extreme, values: Float64Array, time: Float64Array, from: number): void {
  for (let i = from; i < values.length; i++) {
    const value = values[i] ?? NaN
    if (value < extreme.min) [extreme.min, extreme.atMin] = [value, time[i] ?? 0]
    if (value > extreme.max) [extreme.max, extreme.atMax] = [value, time[i] ?? 0]
  }
}

/** A span's tension with the limit that it is measured by: a channel's, or one for the whole run. */
interface Strain {
  readonly name: string
  readonly tension: number
  readonly limit: number | undefined
  /** N */
  readonly elastic: number
}

export interface NumberedChannel {
  readonly channel: Channel
  readonly index: number
}

/** Pinned runs in the pictures: the lines that stand out, each pinned run in a dash of its own and with its letter. */
import type { Trace } from '../state/trace'
import type { SignalOf } from './columns'
import type { DrawnLine, Scene } from './compose'
import type { Signal } from './picture'
import { samplesUntil } from './strokes'

export interface PinnedTrace {
  readonly letter: string
  /** Which dash. */
  readonly mark: number
  readonly trace: Trace
}

/** A recorded column of a pinned run. */
export interface PinnedLine {
  readonly letter: string
  readonly mark: number
  readonly signal: Signal
}

/** By mark; CSS pixels. They differ from each other, and from the whole lines of the run in hand. */
export const pinDashes: readonly (readonly number[])[] = [
  [2, 3],
  [9, 5],
  [13, 4, 2, 4],
  [5, 3, 1.5, 3, 1.5, 3],
]

/** More lines than these would hide each other behind four runs. */
const few = 4

/** Lines of a chart that pinned runs are drawn beside. */
export function comparedLines(lines: readonly DrawnLine[], strong: ReadonlySet<string>): readonly DrawnLine[] {
  return lines.length <= few ? lines : lines.filter(({ channel }) => strong.has(channel.key))
}

export function pinnedLines(scene: Scene, lines: readonly DrawnLine[], signal: SignalOf): PinnedLine[] {
  const keys = comparedLines(lines, scene.strong).map(({ channel }) => channel.key)
  return scene.pins.flatMap(({ letter, mark, trace }) =>
    trace.plan.channels.flatMap(({ key }, index) =>
      keys.includes(key) ? [{ letter, mark, signal: signal(trace, index) }] : [],
    ),
  )
}

export interface PinnedSample {
  readonly letter: string
  readonly trace: Trace
  readonly index: number
  readonly sample: number
}

/** The last sample of each pinned run until `time`. */
export function pinnedAt(scene: Scene, key: string, time: number): PinnedSample[] {
  return scene.pins.flatMap(({ letter, trace }) => {
    const index = trace.plan.channels.findIndex((channel) => channel.key === key)
    const sample = Math.max(0, samplesUntil(trace.time, trace.count, time) - 1)
    return index < 0 || trace.count === 0 ? [] : [{ letter, trace, index, sample }]
  })
}

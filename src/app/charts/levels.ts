/** Levels that hold for a stretch of time each: limits that change with the film. */
import type { Stretch } from './picture'
import type { Range } from './ranges'

/** One value from start to end. */
export const always = (value: number): Stretch[] => [{ from: 0, to: Infinity, value }]

/** A recorded column as stretches; the last one goes on, for what has not been recorded yet. */
export function stretchesOf(time: Float64Array, values: Float64Array, factor: number): Stretch[] {
  const starts: number[] = []
  for (let i = 0; i < values.length; i++) if (i === 0 || values[i] !== values[i - 1]) starts.push(i)
  return starts.map((start, k) => ({
    from: k === 0 ? 0 : (time[start] ?? 0),
    to: time[starts[k + 1] ?? -1] ?? Infinity,
    value: (values[start] ?? 0) * factor,
  }))
}

/** Each stretch with another value; where neighbours then have the same they are one. */
export function scaledTo(level: readonly Stretch[], to: (value: number) => number): Stretch[] {
  const found: Stretch[] = []
  for (const stretch of level) {
    const value = to(stretch.value)
    const last = found.at(-1)
    if (last?.value === value) found[found.length - 1] = { ...last, to: stretch.to }
    else found.push({ ...stretch, value })
  }
  return found
}

export const scaledBy = (level: readonly Stretch[], factor: number): Stretch[] =>
  level.map((stretch) => ({ ...stretch, value: stretch.value * factor }))

/** The stretches that a window of time shows something of, cut to it. */
export function within(level: readonly Stretch[], { min, max }: Range): Stretch[] {
  return level
    .filter(({ from, to }) => to > min && from < max)
    .map((stretch) => ({ ...stretch, from: Math.max(stretch.from, min), to: Math.min(stretch.to, max) }))
}

export function rangeOf(level: readonly Stretch[], window: Range): Range | undefined {
  const values = within(level, window).map(({ value }) => value)
  return values.length === 0 ? undefined : { min: Math.min(...values), max: Math.max(...values) }
}

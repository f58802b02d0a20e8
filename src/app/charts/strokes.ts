/**
 * A trace as pen strokes. The pen lifts at declared jumps; where many samples fall on one pixel column only first,
 * lowest, highest and last are drawn, so no peak is lost.
 */

export interface Pen {
  moveTo(x: number, y: number): void
  lineTo(x: number, y: number): void
}

export interface Stroke {
  readonly time: Float64Array
  readonly values: Float64Array
  /** Sample numbers that begin a new stroke, ascending. */
  readonly lifts: readonly number[]
}

export type Place = (value: number) => number

/** A place that grows evenly with its value, made quick by asking only where two values go. */
export function evenPlace(place: Place, low: number, high: number): Place {
  const start = place(low)
  const slope = (place(high) - start) / (high - low)
  return (value) => start + (value - low) * slope
}

/** Draws samples from..to (inclusive); `on`: going on from the sample before, where the pen still is. */
export function drawStroke(pen: Pen, stroke: Stroke, from: number, to: number, x: Place, y: Place, on = false): void {
  let goesOn = on && !stroke.lifts.includes(from)
  let next = stroke.lifts.findIndex((lift) => lift > from)
  let begin = from
  while (begin <= to) {
    const lift = next < 0 ? Infinity : (stroke.lifts[next] ?? Infinity)
    const end = Math.min(to, lift - 1)
    drawPiece(pen, stroke, begin, end, x, y, goesOn)
    goesOn = false
    begin = end + 1
    if (next >= 0) next++
  }
}

function drawPiece(pen: Pen, stroke: Stroke, from: number, to: number, x: Place, y: Place, goesOn: boolean): void {
  const { time, values } = stroke
  let column = NaN
  let [first, low, high, last] = [0, 0, 0, 0]
  const closeColumn = () => {
    if (low < first && low < last) pen.lineTo(column, y(low))
    if (high > first && high > last) pen.lineTo(column, y(high))
    if (last !== first) pen.lineTo(column, y(last))
  }
  for (let i = from; i <= to; i++) {
    const value = values[i] ?? 0
    const px = Math.round(x(time[i] ?? 0))
    if (px === column) {
      if (value < low) low = value
      if (value > high) high = value
    } else {
      if (i > from) closeColumn()
      if (i > from || goesOn) pen.lineTo(px, y(value))
      else pen.moveTo(px, y(value))
      column = px
      first = low = high = value
    }
    last = value
  }
  if (from <= to) closeColumn()
}

/** Number of samples whose time is at most `t`, by halving; `count` samples are there. */
export function samplesUntil(time: Float64Array, count: number, t: number): number {
  let [low, high] = [0, count]
  while (low < high) {
    const middle = (low + high) >> 1
    if ((time[middle] ?? Infinity) <= t) low = middle + 1
    else high = middle
  }
  return low
}

/** The samples in the window and one beyond it on either side. */
export function visible(time: Float64Array, count: number, min: number, max: number): { from: number; to: number } {
  return {
    from: Math.max(0, samplesUntil(time, count, min) - 1),
    to: Math.min(count - 1, samplesUntil(time, count, max)),
  }
}

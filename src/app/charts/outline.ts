/**
 * A recorded column as a path that grows with it: drawing again costs only what is new. Along x it is in canvas pixels,
 * along y in recorded values, so that another range, unit or colour needs no new path.
 */
import { drawStroke, type Stroke } from './strokes'

/** Times to canvas pixels. */
export interface Across {
  readonly start: number
  /** pixels per second */
  readonly slope: number
}

const same = (value: number) => value

export class Outline {
  path = new Path2D()
  #across: Across = { start: NaN, slope: NaN }
  #from = 0
  /** Samples before this one are in the path. */
  #done = 0

  /** Takes in samples from..to (inclusive) that are not yet there. */
  reach(stroke: Stroke, from: number, to: number, across: Across): void {
    const { start, slope } = across
    const fits = start === this.#across.start && slope === this.#across.slope
    if (!fits || from !== this.#from || to < this.#done - 1) this.#begin(from, across)
    if (to < this.#done) return
    drawStroke(this.path, stroke, this.#done, to, (time) => start + time * slope, same, this.#done > from)
    this.#done = to + 1
  }

  #begin(from: number, across: Across): void {
    this.path = new Path2D()
    this.#across = across
    this.#from = this.#done = from
  }
}

/** What has been drawn of runs, for as long as these are kept by somebody else. */
export class Outlines {
  readonly #runs = new WeakMap<object, Map<number, Outline>>()

  of(run: object, index: number): Outline {
    const outlines = this.#runs.get(run) ?? new Map<number, Outline>()
    this.#runs.set(run, outlines)
    const outline = outlines.get(index) ?? new Outline()
    outlines.set(index, outline)
    return outline
  }
}

/** A chart as strokes and texts of a drawing that stays sharp at any size: the same picture that the page paints. */
import { ticksOf } from '../charts/graph'
import { alongLine, aroundPoint, firstFree, type Box } from '../charts/labels'
import { within } from '../charts/levels'
import type { Mark, Palette, Picture, Signal, Stretch } from '../charts/picture'
import { pinDashes } from '../charts/pinned'
import { recordedDash, recordedName } from '../charts/recorded'
import type { Range } from '../charts/ranges'
import { drawStroke, evenPlace, samplesUntil, visible, type Place } from '../charts/strokes'

export interface StrokeShape {
  readonly d: string
  readonly stroke: string
  readonly fill: string
  readonly width: number
  readonly dash: string
}

export interface TextShape {
  readonly x: number
  readonly y: number
  readonly text: string
  readonly anchor: 'start' | 'middle' | 'end'
  readonly colour: string
  readonly strong: boolean
}

export interface ChartFigure {
  readonly frame: Box
  /** Drawn over the whole width of the figure. */
  readonly axes: readonly StrokeShape[]
  /** Drawn inside the frame only. */
  readonly strokes: readonly StrokeShape[]
  readonly texts: readonly TextShape[]
}

export const figureWidth = 1000
export const fontSize = 15
/** units a letter is wide, on the whole */
const letter = 8.4
/** Strokes are told in pixels of a screen. */
const thick = 1.4
const edge = { left: 62, right: 16, top: 8, bottom: 28 }

/** @param height of the whole, axis included */
export function chartFigure(picture: Picture, palette: Palette, height: number): ChartFigure {
  return new Drafter(picture, palette, height).figure()
}

class Drafter {
  readonly #frame: Box
  readonly #x: Place
  readonly #y: Place
  readonly #strokes: StrokeShape[] = []
  readonly #texts: TextShape[] = []
  readonly #taken: Box[] = []

  constructor(
    private readonly picture: Picture,
    private readonly palette: Palette,
    height: number,
  ) {
    const { left, right, top, bottom } = edge
    this.#frame = { left, top, width: figureWidth - left - right, height: height - top - bottom }
    const { x, y } = picture
    const { width, height: tall } = this.#frame
    this.#x = evenPlace((t) => left + (width * (t - x.min)) / (x.max - x.min), x.min, x.max)
    this.#y = evenPlace((v) => top + tall - (tall * (v - y.min)) / (y.max - y.min), y.min, y.max)
  }

  figure(): ChartFigure {
    const axes = this.#axes()
    this.#band()
    this.#moments()
    for (const { level, colour, dash } of this.picture.marks) this.#stroke(this.#track(level), colour, 1.2, dash)
    for (const { signal, colour, width, dash } of this.picture.lines) this.#signal(signal, colour, width, dash)
    for (const { signal, mark, letter: name } of this.picture.pinned) {
      this.#signal(signal, this.palette.ink, 1.5, pinDashes[mark] ?? [])
      this.#name(signal, name, 0.07 * mark)
    }
    for (const signal of this.picture.recorded) {
      this.#signal(signal, this.palette.ink, 1.2, recordedDash)
      this.#name(signal, recordedName, -0.03)
    }
    for (const peak of this.picture.peaks) this.#peak(peak)
    for (const mark of this.picture.marks) this.#markLabels(mark)
    return { frame: this.#frame, axes, strokes: this.#strokes, texts: this.#texts }
  }

  #axes(): StrokeShape[] {
    const { left, top, width, height } = this.#frame
    const { x, y } = this.picture
    const [across, up] = [ticksOf(x, false, 10), ticksOf(y, false, Math.max(2, height / 42))]
    const { soft } = this.palette
    for (const { at, text } of across) this.#text(this.#x(at), top + height + 20, `${text} s`, 'middle', soft)
    for (const { at, text } of up) this.#text(left - 7, this.#y(at) + 5, text, 'end', soft)
    const grid = across.map(({ at }) => `M${n(this.#x(at))} ${top}v${height}`)
    const lines = up.map(({ at }) => `M${left} ${n(this.#y(at))}h${width}`)
    return [
      { d: [...grid, ...lines].join(''), stroke: this.palette.hair, fill: 'none', width: 1, dash: '' },
      { d: `M${left} ${top}v${height}h${width}`, stroke: this.palette.steel, fill: 'none', width: 1, dash: '' },
    ]
  }

  #band(): void {
    const { band } = this.picture
    if (!band) return
    const points = [...this.#points(band.upper), ...this.#points(band.lower).reverse()]
    if (points.length < 3) return
    const d = `M${points.map(([px, py]) => `${n(px)} ${n(py)}`).join('L')}Z`
    this.#strokes.push({ d, stroke: 'none', fill: this.palette.band, width: 0, dash: '' })
  }

  #moments(): void {
    const { top, height } = this.#frame
    const d = this.picture.moments.map((time) => `M${n(this.#x(time))} ${top}v${height}`).join('')
    this.#stroke(d, this.palette.steel, 1, [2, 3])
  }

  #points(level: readonly Stretch[]): [number, number][] {
    return within(level, this.picture.x).flatMap(({ from, to, value }): [number, number][] => [
      [this.#x(from), this.#y(value)],
      [this.#x(to), this.#y(value)],
    ])
  }

  #track(level: readonly Stretch[]): string {
    const points = this.#points(level)
    return points.length === 0 ? '' : `M${points.map(([px, py]) => `${n(px)} ${n(py)}`).join('L')}`
  }

  #signal(signal: Signal, colour: string, width: number, dash: readonly number[]): void {
    const { min, max } = this.picture.x
    const { from, to } = visible(signal.time, signal.values.length, min, max)
    const parts: string[] = []
    const pen = {
      moveTo: (px: number, py: number) => void parts.push(`M${n(px)} ${n(py)}`),
      lineTo: (px: number, py: number) => void parts.push(`L${n(px)} ${n(py)}`),
    }
    drawStroke(pen, signal, from, to, this.#x, (value) => this.#y(value * signal.factor))
    this.#stroke(parts.join(''), colour, width, dash)
  }

  #stroke(d: string, stroke: string, width: number, dash: readonly number[]): void {
    if (d === '') return
    const scaled = dash.map((length) => n(length * thick)).join(' ')
    this.#strokes.push({ d, stroke, fill: 'none', width: width * thick, dash: scaled })
  }

  #peak({ time, value, label, colour }: Picture['peaks'][number]): void {
    const [px, py] = [this.#x(time), this.#y(value)]
    const { left, width } = this.#frame
    if (px < left || px > left + width) return
    const d = `M${n(px - 4)} ${n(py)}a4 4 0 1 0 8 0a4 4 0 1 0 -8 0Z`
    this.#strokes.push({ d, stroke: this.palette.sheet, fill: colour, width: 1.5, dash: '' })
    this.#put(label, aroundPoint(px, py, label.length * letter, fontSize + 3, 9), this.palette.ink, true)
  }

  /** Beside its line, where it finds room. */
  #name(signal: Signal, name: string, off: number): void {
    const { min, max } = this.picture.x
    for (const share of [0.08, 0.36, 0.66]) {
      const time = min + (max - min) * (share + off)
      const value = signal.values[samplesUntil(signal.time, signal.values.length, time) - 1]
      if (value === undefined) continue
      const place: [number, number] = [this.#x(time), this.#y(value * signal.factor)]
      if (this.#put(name, aroundPoint(...place, name.length * letter, fontSize + 3, 5), this.palette.ink, true)) return
    }
  }

  #markLabels(mark: Mark): void {
    for (const stretch of within(mark.level, this.picture.x)) this.#markLabel(mark, stretch, this.picture.y)
  }

  #markLabel({ label, colour, hangs, near }: Mark, { from, to, value }: Stretch, range: Range): void {
    const above = value > range.max
    const below = value < range.min
    if ((near && (above || below)) || label(value) === '') return
    const text = `${above ? '↑ ' : below ? '↓ ' : ''}${label(value)}`
    const height = fontSize + 3
    const { top, height: tall } = this.#frame
    const beside = [this.#y(value) - height - 2, this.#y(value) + 3]
    const tops = above ? [top + 1] : below ? [top + tall - height - 1] : hangs ? beside.reverse() : beside
    const frame = { ...this.#frame, left: this.#x(from), width: this.#x(to) - this.#x(from) }
    this.#put(text, alongLine(tops, text.length * letter, height, frame), colour, false)
  }

  #put(text: string, places: readonly Box[], colour: string, strong: boolean): boolean {
    const box = firstFree(places, this.#taken, this.#frame)
    if (!box) return false
    this.#taken.push(box)
    this.#text(box.left, box.top + box.height - 4, text, 'start', colour, strong)
    return true
  }

  #text(x: number, y: number, text: string, anchor: TextShape['anchor'], colour: string, strong = false): void {
    this.#texts.push({ x: Number(n(x)), y: Number(n(y)), text, anchor, colour, strong })
  }
}

/** A tenth of a unit is finer than anybody sees. */
const n = (value: number): string => String(Math.round(value * 10) / 10)

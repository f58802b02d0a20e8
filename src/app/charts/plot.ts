/**
 * One chart on uPlot: the only file that knows it. uPlot lays out axes, grid and series; strokes, levels and labels are
 * drawn by our own hands, since it knows neither lifted pens over typed arrays nor threshold lines; so are the gestures
 * (gestures.ts), since it knows no touch.
 */
import uPlot from 'uplot'
import 'uplot/dist/uPlot.min.css'
import { numberText } from '../shown'
import { drawBehind, drawInFront, drawUnder, type Sheet } from './backdrop'
import { gutter, rightEdge } from './measures'
import type { Palette, Picture } from './picture'
import { drawStroke, evenPlace, visible } from './strokes'

const quiet = () => null
/** uPlot listens to nothing itself. */
const bind = {
  mousedown: quiet,
  mouseup: quiet,
  click: quiet,
  dblclick: quiet,
  mousemove: quiet,
  mouseleave: quiet,
  mouseenter: quiet,
}

export class Plot {
  #u: uPlot | undefined
  #picture: Picture | undefined
  #palette: Palette | undefined
  #taken: Sheet['taken'] = []
  #cursor: number | null = null

  constructor(
    private readonly host: HTMLElement,
    /** Only the lowest chart says what its time axis reads. */
    private readonly withTime: boolean,
  ) {}

  /** The element over the plotting area: where gestures happen. */
  get area(): HTMLElement | undefined {
    return this.#u?.over
  }

  /** Returns whether the chart was made anew. */
  draw(picture: Picture, palette: Palette): boolean {
    this.#picture = picture
    this.#palette = palette
    const fresh = this.#u === undefined || this.#u.series.length !== picture.lines.length + 1
    if (fresh) this.#make(picture)
    const u = this.#u
    if (!u) return false
    picture.lines.forEach((line, i) => {
      const series = u.series[i + 1]
      if (series) Object.assign(series, { width: line.width, dash: [...line.dash] })
    })
    u.batch(() => {
      u.setData(dataOf(picture), false)
      u.redraw(true, false)
    })
    this.point(this.#cursor)
    return fresh
  }

  /** Puts the cursor at an instant, or takes it away. */
  point(time: number | null): void {
    this.#cursor = time
    const u = this.#u
    const window = this.#picture?.x
    if (!u || !window) return
    const inside = time !== null && time >= window.min && time <= window.max
    u.setCursor({ left: inside ? u.valToPos(time, 'x') : -10, top: 0 }, false)
  }

  /** Shades a stretch of the picture while it is being chosen. */
  shade(from: number, to: number): void {
    const u = this.#u
    if (!u) return
    u.setSelect({ left: Math.min(from, to), width: Math.abs(to - from), top: 0, height: u.over.clientHeight }, false)
  }

  timeAt(left: number): number {
    return this.#u?.posToVal(left, 'x') ?? 0
  }

  fit(): void {
    const { clientWidth: width, clientHeight: height } = this.host
    const u = this.#u
    if (!u || width === 0 || height === 0 || (u.width === width && u.height === height)) return
    u.setSize({ width, height })
    this.point(this.#cursor)
  }

  destroy(): void {
    this.#u?.destroy()
    this.#u = undefined
  }

  #make(picture: Picture): void {
    this.destroy()
    this.#u = new uPlot(this.#options(picture), dataOf(picture), this.host)
  }

  #options(picture: Picture): uPlot.Options {
    return {
      width: Math.max(this.host.clientWidth, 1),
      height: Math.max(this.host.clientHeight, 1),
      padding: [6, rightEdge, 0, 0],
      legend: { show: false },
      cursor: { y: false, points: { show: false }, drag: { x: false, y: false, setScale: false }, bind },
      scales: {
        x: { time: false, range: () => [this.#picture?.x.min ?? 0, this.#picture?.x.max ?? 1] },
        y: { range: () => [this.#picture?.y.min ?? 0, this.#picture?.y.max ?? 1] },
      },
      axes: this.#axes(),
      series: [{}, ...picture.lines.map((_, i) => this.#series(i))],
      hooks: {
        drawClear: [(u) => this.#onSheet(u, drawUnder)],
        drawAxes: [
          (u) => {
            this.#taken = []
            this.#onSheet(u, drawBehind)
          },
        ],
        draw: [(u) => this.#onSheet(u, drawInFront)],
      },
    }
  }

  #axes(): uPlot.Axis[] {
    const common = {
      stroke: () => this.#palette?.soft ?? '',
      font: '12px system-ui, sans-serif',
      grid: { stroke: () => this.#palette?.hair ?? '', width: 1 },
      ticks: { stroke: () => this.#palette?.hair ?? '', width: 1, size: 4 },
      gap: 4,
    }
    const time: uPlot.Axis = { ...common, space: 70, size: 26, values: (_, splits) => withUnit(splits, 's') }
    const noTime: uPlot.Axis = { ...common, space: 70, size: 5, values: (_, splits) => splits.map(() => '') }
    return [this.withTime ? time : noTime, { ...common, space: 30, size: gutter, values: (_, splits) => plain(splits) }]
  }

  #series(i: number): uPlot.Series {
    return {
      stroke: () => this.#picture?.lines[i]?.colour ?? '',
      points: { show: false },
      paths: (u) => this.#paths(u, i),
    }
  }

  #paths(u: uPlot, i: number): uPlot.Series.Paths | null {
    const picture = this.#picture
    const line = picture?.lines[i]
    if (!picture || !line || picture.time.length === 0) return null
    const { from, to } = visible(picture.time, picture.time.length, picture.x.min, picture.x.max)
    const stroke = new Path2D()
    const { x, y } = placesOn(u, picture)
    drawStroke(stroke, { time: picture.time, values: line.values, lifts: picture.lifts }, from, to, x, y)
    return { stroke }
  }

  #onSheet(u: uPlot, draw: (sheet: Sheet, picture: Picture) => void): void {
    if (!this.#picture || !this.#palette) return
    const scale = uPlot.pxRatio
    draw(
      {
        context: u.ctx,
        frame: { ...u.bbox },
        ...placesOn(u, this.#picture),
        scale,
        palette: this.#palette,
        taken: this.#taken,
      },
      this.#picture,
    )
  }
}

/** uPlot's own way from value to pixel asks for the scale each time; both of ours are even. */
const placesOn = (u: uPlot, { x, y }: Picture) => ({
  x: evenPlace((time) => u.valToPos(time, 'x', true), x.min, x.max),
  y: evenPlace((value) => u.valToPos(value, 'y', true), y.min, y.max),
})

/** uPlot draws nothing, not even axes, without data: two ends without values stand for a run that has not begun. */
function dataOf(picture: Picture): uPlot.AlignedData {
  if (picture.time.length > 0) return [picture.time, ...picture.lines.map((line) => line.values)]
  return [[picture.x.min, picture.x.max], ...picture.lines.map(() => [null, null])]
}

/** As many decimals as it takes to tell the step apart, so that 2.5 does not read 3. */
function placesIn(splits: readonly number[]): number {
  const step = Math.abs((splits[1] ?? 1) - (splits[0] ?? 0)) || 1
  const exact = (places: number) => Math.abs(step - Number(step.toFixed(places))) < step * 1e-3
  return [0, 1, 2, 3, 4, 5].find(exact) ?? 6
}

const plain = (splits: readonly number[]): string[] => splits.map((split) => numberText(split, placesIn(splits)))

const withUnit = (splits: readonly number[], unit: string): string[] => plain(splits).map((text) => `${text} ${unit}`)

/**
 * One chart on uPlot: the only file that knows it. uPlot lays out axes, grid and cursor; traces, levels and labels are
 * drawn by our own hands, since it knows neither lifted pens over typed arrays nor paths that grow nor threshold lines; so
 * are the gestures (gestures.ts), since it knows no touch.
 */
import uPlot from 'uplot'
import 'uplot/dist/uPlot.min.css'
import { numberText } from '../shown'
import { drawBehind, drawInFront, drawUnder, type Sheet } from './backdrop'
import { gutter, rightEdge } from './measures'
import type { Palette, Picture } from './picture'
import { Outlines } from './outline'
import { evenPlace } from './strokes'

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
  #withTime = false
  readonly #outlines = new Outlines()

  constructor(private readonly host: HTMLElement) {}

  /** The element over the plotting area: where gestures happen. */
  get area(): HTMLElement | undefined {
    return this.#u?.over
  }

  /** `withTime`: only the lowest chart says what its time axis reads. */
  draw(picture: Picture, palette: Palette, withTime: boolean): void {
    const otherAxis = withTime !== this.#withTime
    this.#picture = picture
    this.#palette = palette
    this.#withTime = withTime
    this.#u ??= new uPlot(this.#options(), endsOf(picture), this.host)
    const u = this.#u
    u.batch(() => {
      u.setData(endsOf(picture), false)
      u.redraw(true, otherAxis)
    })
    this.point(this.#cursor)
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

  #options(): uPlot.Options {
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
      // Not drawn: axes take their ranges from the picture.
      series: [{}, { points: { show: false }, paths: () => null }],
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
    const time: uPlot.Axis = {
      ...common,
      space: 70,
      size: () => (this.#withTime ? 26 : 5),
      values: (_, splits) => (this.#withTime ? withUnit(splits, 's') : splits.map(() => '')),
    }
    return [time, { ...common, space: 30, size: gutter, values: (_, splits) => plain(splits) }]
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
        outlines: this.#outlines,
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

/** uPlot draws nothing, not even axes, without data: the two ends of the picture, without values. */
const endsOf = ({ x }: Picture): uPlot.AlignedData => [
  [x.min, x.max],
  [null, null],
]

/** As many decimals as it takes to tell the step apart, so that 2.5 does not read 3. */
function placesIn(splits: readonly number[]): number {
  const step = Math.abs((splits[1] ?? 1) - (splits[0] ?? 0)) || 1
  const exact = (places: number) => Math.abs(step - Number(step.toFixed(places))) < step * 1e-3
  return [0, 1, 2, 3, 4, 5].find(exact) ?? 6
}

const plain = (splits: readonly number[]): string[] => splits.map((split) => numberText(split, placesIn(splits)))

const withUnit = (splits: readonly number[], unit: string): string[] => plain(splits).map((text) => `${text} ${unit}`)

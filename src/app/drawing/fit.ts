/** Which way round a line is drawn, and how it goes into its box. */
import { dot, rotated, type Point } from './geometry'
import { centreAt, laidOut, strung, turnedBy, type Layout } from './layout'
import type { DrawnLine, Stores } from './line'

export interface Size {
  readonly width: number
  readonly height: number
}

/** From metres to pixels: uniform, y down. */
export interface Frame {
  /** pixels per metre */
  readonly scale: number
  readonly left: number
  readonly top: number
}

export interface Elevation {
  readonly layout: Layout
  readonly frame: Frame
  /** Unit vector in the layout: where things fall. */
  readonly falls: Point
}

/** Pixels kept free around the line, for names at its edge. */
const margin = 16
/** pixels per metre: a short line is not blown up beyond this */
const largest = 420

export interface Bounds {
  readonly low: Point
  readonly high: Point
}

/** Of everything that can come to be drawn: carriages at both stops, rolls at their largest. */
export function boundsOf(layout: Layout): Bounds {
  const reach = layout.flatMap((placed) => {
    const { wheel, circle } = placed
    const centres = wheel.travel
      ? [wheel.travel.lower, 0, wheel.travel.upper].map((z) => centreAt(placed, z))
      : [circle]
    // A nip's second roller stands beyond its first.
    const radius = Math.max(wheel.largest, wheel.radius) * (wheel.nip ? 2.5 : 1)
    return centres.map((centre) => ({ ...centre, radius }))
  })
  const [xs, ys] = [reach.map(({ x }) => x), reach.map(({ y }) => y)]
  const by = (values: readonly number[], sign: number) =>
    values.map((value, i) => value + sign * (reach[i]?.radius ?? 0))
  return {
    low: { x: Math.min(...by(xs, -1)), y: Math.min(...by(ys, -1)) },
    high: { x: Math.max(...by(xs, 1)), y: Math.max(...by(ys, 1)) },
  }
}

export function frameOf({ low, high }: Bounds, box: Size): Frame {
  const [wide, tall] = [Math.max(high.x - low.x, 1e-3), Math.max(high.y - low.y, 1e-3)]
  const room = { width: Math.max(1, box.width - 2 * margin), height: Math.max(1, box.height - 2 * margin) }
  const scale = Math.min(room.width / wide, room.height / tall, largest)
  return {
    scale,
    left: box.width / 2 - (scale * (low.x + high.x)) / 2,
    top: box.height / 2 + (scale * (low.y + high.y)) / 2,
  }
}

export const toPixels = ({ scale, left, top }: Frame, { x, y }: Point): Point => ({
  x: left + scale * x,
  y: top - scale * y,
})

const down: Point = { x: 0, y: -1 }
const step = Math.PI / 12

/** A line of level dancers is laid on its side where that makes it larger by this much. */
const worthIt = 1.4

/** Laid out, turned the way that suits dancers, box and eye best, and fitted into the box. */
export function elevation(line: DrawnLine, box: Size): Elevation {
  const flat = laidOut(line)
  const upright = framed(best(flat, box), box, down)
  if (line.wheels.some(({ kind, travel }) => kind === 'dancer' && travel?.stores !== 'level')) return upright
  const quarter = Math.PI / 2
  const lying = [quarter, -quarter].map((by) => framed(turnedBy(upright.layout, by), box, rotated(down, by)))
  const forward = lying.find(({ layout }) => (layout.at(-1)?.circle.x ?? 0) > (layout[0]?.circle.x ?? 0)) ?? upright
  return forward.frame.scale > worthIt * upright.frame.scale ? forward : upright
}

const framed = (layout: Layout, box: Size, falls: Point): Elevation => {
  return { layout, frame: frameOf(boundsOf(layout), box), falls }
}

function best(flat: Layout, box: Size): Layout {
  const choices = Array.from({ length: 24 }, (_, k) => turnedBy(flat, plumb(flat) + k * step))
  const costs = choices.map((layout) => costOf(layout, box))
  return choices[costs.indexOf(Math.min(...costs))] ?? flat
}

/** rad, by which the line is turned for its first dancer to move straight down */
function plumb(layout: Layout): number {
  const dancer = layout.find(({ wheel }) => wheel.kind === 'dancer')
  return dancer ? -Math.PI / 2 - Math.atan2(dancer.storing.y, dancer.storing.x) : 0
}

/** Gravity comes first: it is stated. Then size, film running to the right, and spans that lie level or plumb. */
function costOf(layout: Layout, box: Size): number {
  const wrong = layout
    .flatMap(({ wheel, storing }) =>
      wheel.kind === 'dancer' && wheel.travel ? [wrongWay(storing, wheel.travel.stores)] : [],
    )
    .reduce((sum, one) => sum + one, 0)
  const straights = strung(layout.map(({ circle }) => circle))
  const aslant = straights.filter(({ heading }) => Math.abs(Math.sin(2 * heading)) > 1e-6).length
  const { scale } = frameOf(boundsOf(layout), box)
  const [first, last] = [layout[0]?.circle, layout.at(-1)?.circle]
  const backward = first && last && last.x < first.x ? 1 : 0
  return 4 * wrong - Math.log(scale) + 0.25 * backward + (0.3 * aslant) / Math.max(1, straights.length)
}

/** 0: the carriage is drawn moving the way that is stated; 2: the opposite way. */
function wrongWay(storing: Point, stores: Stores): number {
  const falling = dot(storing, down)
  if (stores === 'level') return Math.abs(falling)
  return 1 - (stores === 'down' ? falling : -falling)
}

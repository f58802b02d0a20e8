/** Names and shares beside the drawing: placed once for a line in its box, so that none covers another, film, or a part. */
import { firstFree, type Box } from '../charts/labels'
import { counterOf, type Span, type Strung } from './film'
import { toPixels, type Elevation, type Size } from './fit'
import { between, distance, leftOf, plus, type Point } from './geometry'
import { centreAt } from './layout'

export interface Caption {
  readonly left: number
  readonly top: number
  readonly width: number
  readonly height: number
}

export interface Captions {
  /** By number of the wheel. */
  readonly names: ReadonlyMap<number, Caption>
  /** By number of the span. */
  readonly shares: ReadonlyMap<number, Caption>
}

/** CSS pixels: a letter of the widest usual font at 12 px. */
const letter = 7
const height = 16
const shareWidth = 38
/** Film is taken for a row of points this far apart. */
const pace = 5
/** Shorter straights, in pixels, bear no label. */
const shortest = 26

const importance = ['dancer', 'unwind', 'rewind', 'driven', 'bar', 'idler']

export function captionsOf(elevation: Elevation, strung: Strung, spans: readonly Span[], size: Size): Captions {
  const frame: Box = { left: 2, top: 2, width: size.width - 4, height: size.height - 4 }
  const taken = obstacles(elevation, strung)
  const wheels = elevation.layout.map(({ wheel, circle }, i) => ({ i, wheel, circle }))
  const ordered = [...wheels].sort((a, b) => importance.indexOf(a.wheel.kind) - importance.indexOf(b.wheel.kind))
  const names = new Map<number, Caption>()
  const shares = new Map<number, Caption>()
  const put = (into: Map<number, Caption>, key: number, places: readonly Box[]) => {
    const box = firstFree(places, taken, frame)
    if (!box) return
    into.set(key, box)
    taken.push(box)
  }
  const name = ({ i, wheel, circle }: (typeof ordered)[number]) => {
    const radius = Math.max(circle.radius, wheel.kind === 'unwind' ? wheel.largest : 0) * elevation.frame.scale
    put(names, i, around(toPixels(elevation.frame, circle), radius, Math.ceil(wheel.name.length * letter + 2)))
  }
  ordered.filter(({ wheel }) => wheel.kind !== 'idler').forEach(name)
  spans.forEach((span, j) => put(shares, j, besideFilm(elevation, strung, span)))
  ordered.filter(({ wheel }) => wheel.kind === 'idler').forEach(name)
  return { names, shares }
}

function obstacles({ layout, frame }: Elevation, strung: Strung): Box[] {
  const counters = layout.flatMap(({ wheel }, i) => {
    const counter = wheel.nip ? counterOf(strung, i) : undefined
    return counter ? discAt(toPixels(frame, counter), counter.radius * frame.scale) : []
  })
  const circles = layout.flatMap((placed) => {
    const { wheel, circle } = placed
    const { lower, upper } = wheel.travel ?? { lower: 0, upper: 0 }
    const radius = Math.max(wheel.largest, circle.radius) * frame.scale + 2
    const count = Math.ceil(((upper - lower) * frame.scale) / pace) + 1
    const zs = Array.from({ length: count }, (_, k) => lower + ((upper - lower) * k) / Math.max(1, count - 1))
    return zs.flatMap((z) => discAt(toPixels(frame, wheel.travel ? centreAt(placed, z) : circle), radius))
  })
  const films = strung.straights.flatMap((straight) => {
    const [from, to] = [toPixels(frame, straight.from), toPixels(frame, straight.to)]
    const count = Math.ceil(distance(from, to) / pace)
    return Array.from({ length: count + 1 }, (_, k) => squareAt(between(from, to, k / Math.max(1, count)), 3))
  })
  return [...circles, ...counters, ...films]
}

const squareAt = ({ x, y }: Point, half: number): Box => ({
  left: x - half,
  top: y - half,
  width: 2 * half,
  height: 2 * half,
})

/** A disc as three boxes, so that a name can stand close to its round. */
const discAt = ({ x, y }: Point, radius: number): Box[] =>
  [
    [1, 0.4],
    [0.75, 0.7],
    [0.4, 1],
  ].map(([wide = 1, tall = 1]) => ({
    left: x - wide * radius,
    top: y - tall * radius,
    width: 2 * wide * radius,
    height: 2 * tall * radius,
  }))

/** Below, above, right, left of a circle, then at its corners, then further off. */
function around({ x, y }: Point, radius: number, width: number): Box[] {
  return [4, 10, 18].flatMap((gap) => {
    const off = radius + gap
    const corner = off * 0.75
    const at = (left: number, top: number): Box => ({ left, top, width, height })
    return [
      at(x - width / 2, y + off),
      at(x - width / 2, y - off - height),
      at(x + off, y - height / 2),
      at(x - off - width, y - height / 2),
      at(x + corner, y + corner - 4),
      at(x + corner, y - corner - height + 4),
      at(x - corner - width, y + corner - 4),
      at(x - corner - width, y - corner - height + 4),
    ]
  })
}

/** On either side of the span's longest straight, about its middle first. */
function besideFilm({ frame }: Elevation, { straights }: Strung, { wheels }: Span): Box[] {
  const own = wheels.slice(0, -1).flatMap((i) => straights[i] ?? [])
  const longest = own.reduce((best, one) => (one.length > best.length ? one : best), own[0] ?? none)
  if (longest.length * frame.scale < shortest) return []
  const left = leftOf(longest.heading)
  // The label's extent square to the film, so that it stands as close whichever way the film runs.
  const reach = (Math.abs(left.x) * shareWidth + Math.abs(left.y) * height) / 2
  return [0.5, 0.35, 0.65, 0.2, 0.8].flatMap((share) =>
    [1, -1].map((side) => {
      const middle = toPixels(frame, between(longest.from, longest.to, share))
      const { x, y } = plus(middle, { x: left.x, y: -left.y }, side * (reach + 5))
      return { left: x - shareWidth / 2, top: y - height / 2, width: shareWidth, height }
    }),
  )
}

const none = { from: { x: 0, y: 0 }, to: { x: 0, y: 0 }, heading: 0, length: 0 }

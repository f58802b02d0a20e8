/** Points, headings and circles in the plane of the side elevation: metres, x to the right, y up, angles anticlockwise. */
import type { Side } from './line'

export interface Point {
  readonly x: number
  readonly y: number
}

export const along = (heading: number): Point => ({ x: Math.cos(heading), y: Math.sin(heading) })

/** Square to a heading, on its left. */
export const leftOf = (heading: number): Point => ({ x: -Math.sin(heading), y: Math.cos(heading) })

export const plus = (a: Point, b: Point, times = 1): Point => ({ x: a.x + times * b.x, y: a.y + times * b.y })

export const between = (a: Point, b: Point, share: number): Point => plus(a, { x: b.x - a.x, y: b.y - a.y }, share)

export const distance = (a: Point, b: Point): number => Math.hypot(b.x - a.x, b.y - a.y)

export const rotated = ({ x, y }: Point, by: number): Point => ({
  x: x * Math.cos(by) - y * Math.sin(by),
  y: x * Math.sin(by) + y * Math.cos(by),
})

export const dot = (a: Point, b: Point): number => a.x * b.x + a.y * b.y

/** The same angle within half a turn either way. */
export const wrapped = (angle: number): number => Math.atan2(Math.sin(angle), Math.cos(angle))

export interface Circle extends Point {
  readonly radius: number
  readonly side: Side
  /** rad, over which film lies on it as stated: tells a whole turn from none */
  readonly wrap: number
}

/** Where film with a heading touches a circle. */
export const touching = ({ x, y, radius, side }: Circle, heading: number): Point =>
  plus({ x, y }, leftOf(heading), -side * radius)

export interface Straight {
  readonly from: Point
  readonly to: Point
  readonly heading: number
  readonly length: number
}

/** Film drawn tight from one circle to the next, on the side of each that its turn says. */
export function tangent(a: Circle, b: Circle): Straight {
  const [dx, dy] = [b.x - a.x, b.y - a.y]
  // Square to the film the centres lie this far apart; circles that overlap too far have no tangent, but a length of none.
  const offset = b.side * b.radius - a.side * a.radius
  const length = Math.sqrt(Math.max(0, dx * dx + dy * dy - offset * offset))
  const heading = Math.atan2(dy, dx) - Math.atan2(offset, length)
  return { from: touching(a, heading), to: touching(b, heading), heading, length }
}

/** rad, not negative: over which film lies on a circle that it meets and leaves with these headings. */
export function turned({ side, wrap }: Circle, arrives: number, leaves: number): number {
  return Math.max(0, wrap + wrapped(side * (leaves - arrives) - wrap))
}

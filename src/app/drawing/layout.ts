/**
 * Where the circles of a line lie. No coordinates are stored: film is followed from the unwind along straights of the stated
 * free lengths and round each roller by its wrap, at the dancers' z = 0. Then rollers stay, and dancers, with the idlers
 * that ride on them, move along the bisector of their wrap; on a swing arm along its arc.
 */
import {
  along,
  distance,
  leftOf,
  plus,
  rotated,
  tangent,
  touching,
  type Circle,
  type Point,
  type Straight,
} from './geometry'
import type { DrawnLine, Side, Wheel } from './line'

export interface Placed {
  readonly wheel: Wheel
  /** At z = 0, with its first radius. */
  readonly circle: Circle
  /** Unit vector: the way it moves to store film. */
  readonly storing: Point
  /** Unit vector square to it, from the film that arrives towards the film that leaves. */
  readonly across: Point
}

export type Layout = readonly Placed[]

/** Follows the film; it starts at the origin with a heading. */
export function walk(wheels: readonly Wheel[], heading: number, rolls: readonly [Side, Side] = [1, 1]): Layout {
  let [here, course]: [Point, number] = [{ x: 0, y: 0 }, heading]
  return wheels.map((wheel, i) => {
    const side = wheel.side ?? rolls[i === 0 ? 0 : 1]
    const centre = plus(here, leftOf(course), side * wheel.radius)
    const circle: Circle = { ...centre, radius: wheel.radius, side, wrap: wheel.wrap }
    const middle = course + (side * wheel.wrap) / 2
    course += side * wheel.wrap
    here = plus(touching(circle, course), along(course), wheel.free)
    return { wheel, circle, storing: plus({ x: 0, y: 0 }, leftOf(middle), -side), across: along(middle) }
  })
}

/** Each roll on that side of its film on which it lies further from everything else. */
export function laidOut({ wheels }: DrawnLine): Layout {
  const sides: Side[] = [1, -1]
  const choices = sides.flatMap((first) => sides.map((last): [Side, Side] => [first, last]))
  const layouts = choices.map((rolls) => walk(wheels, 0, rolls))
  return layouts.reduce((best, layout) => (roomOf(layout) > roomOf(best) + 1e-6 ? layout : best))
}

/** m, least gap between a roll at its largest and any other circle or straight; more than enough counts no more. */
function roomOf(layout: Layout): number {
  const straights = strung(layout.map(({ circle }) => circle))
  const last = layout.length - 1
  const gaps = [0, last].flatMap((roll) => {
    const placed = layout[roll]
    if (!placed) return []
    const near = (other: Point, radius: number) => distance(placed.circle, other) - radius - placed.wheel.largest
    const circles = layout.filter((_, i) => i !== roll).map(({ circle }) => near(circle, circle.radius))
    const films = straights.filter((_, j) => j !== roll && j !== roll - 1)
    return [...circles, ...films.map((straight) => near(nearestOn(straight, placed.circle), 0))]
  })
  return Math.min(0.3, ...gaps)
}

export function nearestOn({ from, to }: { from: Point; to: Point }, point: Point): Point {
  const [dx, dy] = [to.x - from.x, to.y - from.y]
  const square = dx * dx + dy * dy
  const share = square === 0 ? 0 : ((point.x - from.x) * dx + (point.y - from.y) * dy) / square
  return plus(from, { x: dx, y: dy }, Math.min(1, Math.max(0, share)))
}

/** The whole line turned about the origin. */
export function turnedBy(layout: Layout, angle: number): Layout {
  return layout.map((placed) => ({
    ...placed,
    circle: { ...placed.circle, ...rotated(placed.circle, angle) },
    storing: rotated(placed.storing, angle),
    across: rotated(placed.across, angle),
  }))
}

/** Centre with the carriage at position z. */
export function centreAt({ wheel, circle, storing, across }: Placed, z: number): Point {
  const arm = wheel.travel?.arm
  if (arm === undefined) return plus(circle, storing, z)
  return plus(plus(circle, storing, arm * Math.sin(z / arm)), across, arm * (Math.cos(z / arm) - 1))
}

/** Centre about which a swing arm turns. */
export function pivotOf({ wheel, circle, across }: Placed): Point | undefined {
  const arm = wheel.travel?.arm
  return arm === undefined ? undefined : plus(circle, across, -arm)
}

/** What has changed since the line was laid out. */
export interface Pose {
  /** m, by dancer; its set point where it is not known */
  readonly positions: ReadonlyMap<string, number>
  /** m, by roll */
  readonly radii: ReadonlyMap<string, number>
}

export function circlesAt(layout: Layout, { positions, radii }: Pose): Circle[] {
  return layout.map((placed) => {
    const { wheel, circle } = placed
    const centre = wheel.travel
      ? centreAt(placed, positions.get(wheel.carriage ?? '') ?? wheel.travel.setPoint)
      : circle
    return { ...circle, x: centre.x, y: centre.y, radius: radii.get(wheel.name) ?? circle.radius }
  })
}

/** The straight films between neighbouring circles. */
export function strung(circles: readonly Circle[]): Straight[] {
  return circles.slice(1).flatMap((circle, i) => {
    const before = circles[i]
    return before ? [tangent(before, circle)] : []
  })
}

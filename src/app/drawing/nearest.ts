/** Which part a pointer means: small rollers are meant from further off than they reach. */
import { toPixels, type Frame } from './fit'
import { distance, type Point } from './geometry'
import type { Item } from './items'
import { nearestOn } from './layout'
import type { Strung } from './film'

/** CSS pixels: half of a target that a finger can meet. */
const reach = 12

export function nearestItem(point: Point, items: readonly Item[], strung: Strung, frame: Frame): number | null {
  const far = items.map((item) => offBy(item, point, strung, frame))
  const least = Math.min(...far)
  return least <= reach ? far.indexOf(least) : null
}

/** CSS pixels from a part; within a roller less than none, so that it comes before the film on it. */
function offBy(item: Item, point: Point, { circles, straights }: Strung, frame: Frame): number {
  if (item.what === 'wheel') {
    const circle = circles[item.index]
    if (!circle) return Infinity
    const off = distance(point, toPixels(frame, circle)) - circle.radius * frame.scale
    return off < 0 ? -1 : off
  }
  const own = item.span.wheels.slice(0, -1).flatMap((i) => straights[i] ?? [])
  const ends = own.map(({ from, to }) => ({ from: toPixels(frame, from), to: toPixels(frame, to) }))
  return Math.min(...ends.map((straight) => distance(nearestOn(straight, point), point)))
}

/** Places labels in a picture so that none covers another or leaves the picture. */

export interface Box {
  readonly left: number
  readonly top: number
  readonly width: number
  readonly height: number
}

const overlap = (a: Box, b: Box) =>
  a.left < b.left + b.width && b.left < a.left + a.width && a.top < b.top + b.height && b.top < a.top + a.height

const within = (inner: Box, outer: Box) =>
  inner.left >= outer.left &&
  inner.top >= outer.top &&
  inner.left + inner.width <= outer.left + outer.width &&
  inner.top + inner.height <= outer.top + outer.height

/** The first place that is free and inside; undefined when there is none: then the label is better left out. */
export function firstFree(places: readonly Box[], taken: readonly Box[], frame: Box): Box | undefined {
  return places.find((place) => within(place, frame) && !taken.some((box) => overlap(place, box)))
}

/** Places about a point, best first: right above, left above, right below, left below, then further off. */
export function aroundPoint(x: number, y: number, width: number, height: number, gap: number): Box[] {
  return [0, 1, 2].flatMap((round) => {
    const off = gap + round * (height + 2)
    return [
      { left: x + gap, top: y - off - height, width, height },
      { left: x - gap - width, top: y - off - height, width, height },
      { left: x + gap, top: y + off, width, height },
      { left: x - gap - width, top: y + off, width, height },
    ]
  })
}

/** Places at given heights, at the right end, the left end and between. */
export function alongLine(tops: readonly number[], width: number, height: number, frame: Box): Box[] {
  const room = frame.width - width - 10
  const lefts = [1, 0, 0.5, 0.75, 0.25].map((share) => frame.left + 6 + room * share)
  return lefts.flatMap((left) => tops.map((top) => ({ left, top, width, height })))
}

/** Lays handles along the time axis so that none covers another. */

export interface Bar {
  /** CSS pixels from the axis' left end, where its time is */
  readonly tick: number
  /** CSS pixels that its name takes */
  readonly width: number
}

export interface Laid {
  readonly left: number
  readonly width: number
  readonly lane: number
}

/** More lanes than these are too much of the screen: names then give way to signs. */
const mostNamed = 3
/** CSS pixels: what a finger needs. */
export const least = 24
const gap = 2

export interface Lanes {
  readonly bars: readonly Laid[]
  readonly count: number
  /** Whether there is room for the names. */
  readonly named: boolean
}

export function lanesOf(bars: readonly Bar[], length: number): Lanes {
  const named = packed(bars, length)
  const count = countOf(named)
  if (count <= mostNamed) return { bars: named, count, named: true }
  const bare = packed(
    bars.map(({ tick }) => ({ tick, width: least })),
    length,
  )
  return { bars: bare, count: countOf(bare), named: false }
}

const countOf = (bars: readonly Laid[]) => bars.reduce((most, { lane }) => Math.max(most, lane + 1), 0)

/** Each in the first lane that is free where it goes, whatever the order in which they come. */
function packed(bars: readonly Bar[], length: number): Laid[] {
  const lanes: { left: number; right: number }[][] = []
  return bars.map(({ tick, width: wanted }) => {
    const width = Math.min(Math.max(wanted, least), Math.max(length, least))
    const left = Math.max(0, Math.min(tick, length - width))
    const right = left + width
    const isFree = (lane: (typeof lanes)[number]) => lane.every((b) => b.right + gap <= left || right + gap <= b.left)
    const found = lanes.findIndex(isFree)
    const lane = found < 0 ? lanes.length : found
    lanes[lane] = [...(lanes[lane] ?? []), { left, right }]
    return { left, width, lane }
  })
}

/**
 * The span as it is drawn: two rollers and the film between them in perspective, on a sheet of given size.
 *
 * Lengths are true to each other except where said: depth of troughs and misalignment are drawn larger by one stated factor, a
 * very long, short or wide span is drawn no more than four times as long as wide or the other way round, and rollers have a
 * least size. The film bends sideways as a beam without tension does.
 */
import type { Assessment } from '../../../wrinkle'

/** How much larger troughs and misalignment are drawn than they are. */
const EXAGGERATION = 20
/** Crests drawn at most: more would only be grey. */
const MOST_WAVES = 40
/** Largest misalignment drawn, rad: beyond it the drawing stays as it is. */
const MOST_TURN = 0.35
/** Deepest trough drawn, of the longer of length and width. */
const MOST_AMPLITUDE = 0.06

export interface Point {
  readonly x: number
  readonly y: number
}

export type Line = readonly Point[]

export interface Ribbon {
  /** one outline of the stretch between two lines that run along the troughs */
  readonly outline: Line
  readonly ends: readonly [Point, Point]
  /** slope of the surface at mid span, -1..1 */
  readonly slope: number
}

export interface Scene {
  readonly rollers: readonly { readonly body: Line; readonly cap: Line }[]
  /** film on and below the roller behind, and on and below the roller before */
  readonly before: Line
  readonly after: Line
  readonly film: Line
  readonly ribbons: readonly Ribbon[]
  readonly crests: readonly Line[]
  readonly folds: readonly Line[]
  /** ends of an arrow that shows which way the film runs */
  readonly arrow: readonly [Point, Point]
  /** waves that were left out so that the picture stays readable: 1 where all are drawn */
  readonly every: number
  readonly toScale: boolean
  /** how many times larger than they are misalignment and troughs are drawn: less than intended where they are large */
  readonly drawn: { readonly turn: number; readonly depth: number }
}

type Place = readonly [x: number, y: number, z: number]

const TURN = (-34 * Math.PI) / 180
const RISE = (33 * Math.PI) / 180
const DISTANCE = 4.2
const STEPS = 18
const ARC_STEPS = 8
const HANG = 0.1

function flatten([x, y, z]: Place): Point {
  const across = x * Math.cos(TURN) - y * Math.sin(TURN)
  const into = x * Math.sin(TURN) + y * Math.cos(TURN)
  const far = DISTANCE / (DISTANCE + into * Math.cos(RISE) - z * Math.sin(RISE))
  return { x: across * far, y: -(z * Math.cos(RISE) + into * Math.sin(RISE)) * far }
}

const steps = (count: number): number[] => Array.from({ length: count + 1 }, (_, i) => i / count)

/** The film as it stands in the drawing: shape, and where a point of it lies. */
class Model {
  readonly length: number
  readonly width: number
  readonly radius: number
  readonly turn: number
  readonly amplitude: number
  readonly waves: number
  readonly every: number
  readonly lean: number
  readonly toScale: boolean
  readonly drawn: Scene['drawn']

  constructor(a: Assessment) {
    const { length, width, radius, misalignment } = a.setting
    const scale = Math.max(length, width)
    this.length = Math.max(length / scale, 0.25)
    this.width = Math.max(width / scale, 0.25)
    this.toScale = Math.min(length, width) / scale >= 0.25
    this.radius = Math.min(0.22, Math.max(0.035, radius / scale))
    this.turn = Math.min(MOST_TURN, Math.max(-MOST_TURN, EXAGGERATION * misalignment))
    const all = width / a.troughs.wavelength
    this.every = Math.max(1, Math.ceil(all / MOST_WAVES))
    this.waves = all / this.every
    const depth = (a.amplitude * this.width) / width
    this.amplitude = Math.min(MOST_AMPLITUDE, EXAGGERATION * depth)
    this.drawn = {
      turn: misalignment === 0 ? EXAGGERATION : this.turn / misalignment,
      depth: depth === 0 ? EXAGGERATION : this.amplitude / depth,
    }
    this.lean = Math.tan(a.angle) * Math.sign(misalignment)
  }

  /** Sideways, of the middle line: square to the roller behind, square to the one before. */
  drift(u: number): number {
    return -this.turn * this.length * (u * u - (u * u * u) / 3)
  }

  /** A point of the film: `u` along the span, `y` across before it drifts, `wave` its height over that of a crest at mid span. */
  point(u: number, y: number, wave: number): Place {
    return [u * (this.length + y * this.turn), y + this.drift(u), this.amplitude * wave * Math.sin(Math.PI * u)]
  }

  /** Phase of the troughs at a point; constant along a trough. */
  phase(u: number, y: number): number {
    return (2 * Math.PI * this.waves * (y + this.lean * (u - 0.5) * this.length)) / this.width
  }

  edge(side: -1 | 1): Place[] {
    const y = (side * this.width) / 2
    return steps(STEPS).map((u) => this.point(u, y, Math.cos(this.phase(u, y))))
  }

  /** Film round a roller and down from it. `way` 1: after the span. */
  round(way: -1 | 1, side: -1 | 1): Place[] {
    const y = (side * this.width) / 2
    const [x0, y0] = this.point(way > 0 ? 1 : 0, y, 0)
    const arc = steps(ARC_STEPS).map((t): Place => {
      const angle = (t * Math.PI) / 2
      return [x0 + way * this.radius * Math.sin(angle), y0, this.radius * (Math.cos(angle) - 1)]
    })
    return [...arc, [x0 + way * this.radius, y0, -this.radius - HANG]]
  }

  roller(way: -1 | 1): { near: Place[]; far: Place[] } {
    const half = this.width * 0.56 + 0.03
    const ring = (side: -1 | 1) =>
      steps(28).map((t): Place => {
        const y = side * half
        const x = way > 0 ? this.length + y * this.turn : 0
        const angle = 2 * Math.PI * t
        return [
          x + this.radius * Math.sin(angle),
          y + (way > 0 ? this.drift(1) : 0),
          this.radius * (Math.cos(angle) - 1),
        ]
      })
    return { near: ring(-1), far: ring(1) }
  }
}

/** Convex outline of points, by turning round them (Andrew's monotone chain). */
function hull(points: Line): Line {
  const sorted = points.toSorted((a, b) => a.x - b.x || a.y - b.y)
  const chain = (list: Line) => {
    const kept: Point[] = []
    for (const p of list) {
      while (kept.length > 1 && cross(kept[kept.length - 2], kept[kept.length - 1], p) <= 0) kept.pop()
      kept.push(p)
    }
    return kept.slice(0, -1)
  }
  return [...chain(sorted), ...chain(sorted.toReversed())]
}

const cross = (a: Point, b: Point, c: Point): number => (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x)

/** Parts of a wave, each a ribbon of its own shade. */
const PER_WAVE = 6

function ribbonsOf(m: Model): Ribbon[] {
  if (m.amplitude === 0) return []
  const reach = m.width / 2 + (Math.abs(m.lean) * m.length) / 2
  const step = m.width / m.waves / PER_WAVE
  const first = -Math.ceil(reach / step)
  const along = (k: number) =>
    steps(STEPS).map((u) => {
      const y = k * step - m.lean * (u - 0.5) * m.length
      return flatten(m.point(u, y, Math.cos((2 * Math.PI * k) / PER_WAVE)))
    })
  let from = along(first)
  const ribbons: Ribbon[] = []
  for (let k = first; k < -first; k++) {
    const to = along(k + 1)
    const slope = -Math.sin((2 * Math.PI * (k + 0.5)) / PER_WAVE)
    ribbons.push({ outline: [...from, ...to.toReversed()], ends: [from[0], from[STEPS]], slope })
    from = to
  }
  return ribbons
}

function crestsOf(m: Model): Line[] {
  if (m.amplitude === 0) return []
  const reach = m.width / 2 + (Math.abs(m.lean) * m.length) / 2
  const apart = m.width / m.waves
  const last = Math.floor(reach / apart)
  return Array.from({ length: 2 * last + 1 }, (_, i) => {
    const y0 = (i - last) * apart
    return steps(STEPS).map((u) => flatten(m.point(u, y0 - m.lean * (u - 0.5) * m.length, 1)))
  })
}

const lifted = ([x, y, z]: Place, by: number): Place => [x, y, z + by]

/** Ridges on the roller before, from where the film meets it to where it leaves. */
function foldsOf(m: Model): Line[] {
  return [-0.17, 0.08].map((share) => {
    const y = share * m.width
    const [x0, y0] = m.point(1, y, 0)
    const raised = m.radius + 0.012
    const lead = steps(3).map((t) => lifted(m.point(0.86 + 0.14 * t, y, 0), 0.012 * t))
    const arc = steps(ARC_STEPS).map((t): Place => {
      const angle = (t * Math.PI) / 2
      return [x0 + raised * Math.sin(angle), y0, raised * Math.cos(angle) - m.radius]
    })
    return [...lead, ...arc].map(flatten)
  })
}

/** @param width and height in the unit of the points; `margin` stays free on all sides */
export function sceneOf(a: Assessment, width: number, height: number, margin: number): Scene {
  const m = new Model(a)
  const line = (places: readonly Place[]) => places.map(flatten)
  const rollers = ([-1, 1] as const).map((way) => {
    const { near, far } = m.roller(way)
    return { body: hull(line([...near, ...far])), cap: line(near) }
  })
  const below = (way: -1 | 1) => line([...m.round(way, -1), ...m.round(way, 1).toReversed()])
  const front = -m.width / 2 - 0.14
  const raw = {
    rollers,
    before: below(-1),
    after: below(1),
    film: line([...m.edge(-1), ...m.edge(1).toReversed()]),
    ribbons: ribbonsOf(m),
    crests: crestsOf(m),
    folds: a.outcome === 'fold' ? foldsOf(m) : [],
    arrow: [flatten([0.3 * m.length, front, 0]), flatten([0.62 * m.length, front, 0])] as const,
    ...{ every: m.every, toScale: m.toScale, drawn: m.drawn },
  }
  const all = [...rollers.flatMap(({ body }) => body), ...raw.before, ...raw.after, ...raw.film, ...raw.arrow]
  return fitted(raw, all, width, height, margin)
}

function fitted(scene: Scene, all: Line, width: number, height: number, margin: number): Scene {
  const [left, top] = [Math.min(...all.map((p) => p.x)), Math.min(...all.map((p) => p.y))]
  const [right, bottom] = [Math.max(...all.map((p) => p.x)), Math.max(...all.map((p) => p.y))]
  const scale = Math.min((width - 2 * margin) / (right - left), (height - 2 * margin) / (bottom - top))
  const [dx, dy] = [(width - scale * (left + right)) / 2, (height - scale * (top + bottom)) / 2]
  const put = (p: Point): Point => ({ x: dx + scale * p.x, y: dy + scale * p.y })
  const lines = (list: readonly Line[]) => list.map((one) => one.map(put))
  return {
    ...scene,
    rollers: scene.rollers.map(({ body, cap }) => ({ body: body.map(put), cap: cap.map(put) })),
    before: scene.before.map(put),
    after: scene.after.map(put),
    film: scene.film.map(put),
    ribbons: scene.ribbons.map((r) => ({ ...r, outline: r.outline.map(put), ends: [put(r.ends[0]), put(r.ends[1])] })),
    crests: lines(scene.crests),
    folds: lines(scene.folds),
    arrow: [put(scene.arrow[0]), put(scene.arrow[1])],
  }
}

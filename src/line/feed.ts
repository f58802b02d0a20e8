/**
 * Indexing feed: a driven roller that moves one pitch a cycle and dwells for the rest.
 *
 * Variables    roller surface speed v (m/s), time since the move began s (s)
 * Parameters   pitch p (m), cycle T_c = p/base speed (s), move T_i (s), ramp t_a (s)
 * Equations    trapezoid: up to v_peak = p/(T_i - t_a) in t_a and down again
 *              cycloidal: v = (p/T_i) (1 - cos(2 pi s/T_i))
 *              table: straight lines through points (share of the move, share of the peak), scaled so that one move feeds p
 *              stored film swings by max - min of the integral of (p/T_c - v)
 * Neglected    what the drive cannot follow: that is drive.ts
 * Source       kinematics
 */
import * as v from 'valibot'
import { plainNumber, quantity } from '../units'
import { Profile, type Piece } from './profile'

const pitch = quantity('length', { meaning: 'Film fed each cycle', usual: ['50 mm', '400 mm'], above: 0, most: 100 })
const move = quantity('time', {
  meaning: 'Time that a move takes; the rest of the cycle is dwell',
  usual: ['0.2 s', '2 s'],
  why: 'A short move swings more film through the dancer, and its ramps shake the line.',
  above: 0,
  most: 1000,
})

export const trapezoidFeed = v.strictObject({
  pattern: v.literal('trapezoid'),
  pitch,
  move,
  ramp: quantity('time', {
    meaning: 'Time of each of the two ramps of a move',
    usual: ['0.05 s', '0.5 s'],
    above: 0,
    most: 1000,
  }),
})
export const cycloidalFeed = v.strictObject({ pattern: v.literal('cycloidal'), pitch, move })
const share = (meaning: string) => plainNumber({ meaning, usual: ['0', '1'], least: 0, most: 1 })
export const tableFeed = v.strictObject({
  pattern: v.literal('table'),
  pitch,
  move,
  table: v.pipe(
    v.array(v.strictTuple([share('Share of the move time'), share('Share of the peak speed')])),
    v.minLength(3),
    v.maxLength(200),
  ),
})

export const feedSchema = v.variant('pattern', [trapezoidFeed, cycloidalFeed, tableFeed])
export type FeedSpec = v.InferOutput<typeof feedSchema>

/** Pieces of one move with the time since its beginning in `at`; the last is the dwell. Speeds in m/s. */
export function movePieces(feed: FeedSpec): Piece[] {
  const dwell = { at: feed.move, v: 0, a: 0, jerk: 0 }
  if (feed.pattern === 'cycloidal') {
    return [{ at: 0, v: 0, a: 0, jerk: 0, swing: feed.pitch / feed.move, rate: (2 * Math.PI) / feed.move }, dwell]
  }
  return [...straightPieces(cornerPoints(feed)), dwell]
}

/** Area under a table of (share of the move, share of the peak speed). */
export function feedLength({ table }: Extract<FeedSpec, { pattern: 'table' }>): number {
  let area = 0
  for (let k = 1; k < table.length; k++) area += ((table[k][0] - table[k - 1][0]) * (table[k][1] + table[k - 1][1])) / 2
  return area
}

/** Corners of a move as (time since its beginning, speed). */
function cornerPoints(feed: Exclude<FeedSpec, { pattern: 'cycloidal' }>): [number, number][] {
  if (feed.pattern === 'trapezoid') {
    const peak = feed.pitch / (feed.move - feed.ramp)
    return [
      [0, 0],
      [feed.ramp, peak],
      [feed.move - feed.ramp, peak],
      [feed.move, 0],
    ]
  }
  const peak = feed.pitch / (feedLength(feed) * feed.move)
  const points = feed.table.map(([time, speed]): [number, number] => [time * feed.move, speed * peak])
  const [first, last] = [points[0][0], points[points.length - 1][0]]
  // at rest before its first point and after its last
  return [[0, 0], [first, 0], ...points, [last, 0], [feed.move, 0]]
}

function straightPieces(points: readonly [number, number][]): Piece[] {
  const pieces: Piece[] = []
  for (let k = 0; k + 1 < points.length; k++) {
    const [at, from] = points[k]
    const [next, to] = points[k + 1]
    if (next > at) pieces.push({ at, v: from, a: (to - from) / (next - at), jerk: 0 })
  }
  return pieces
}

/** Adds moves to a profile from time `from`, at which the cycle stands at `phase` (s since a move began), until `until` (s). */
export function addCycles(
  profile: Profile,
  feed: FeedSpec,
  cycle: number,
  from: number,
  phase: number,
  until: number,
): void {
  const pieces = movePieces(feed)
  for (let n = 0; from - phase + n * cycle < until; n++) {
    const begins = from - phase + n * cycle
    pieces.forEach((p, k) => {
      const ends = begins + (pieces[k + 1]?.at ?? cycle)
      if (ends > from && begins + p.at < until) profile.add(startingAt(p, begins, Math.max(from, begins + p.at)))
    })
  }
}

/** The piece `p` of a move that began at `begins`, taken up at time `at`. */
function startingAt(p: Piece, begins: number, at: number): Piece {
  const s = at - begins - p.at
  if (s <= 0) return { ...p, at: begins + p.at }
  return { ...p, at, v: p.v + p.a * s, ...(p.swing === undefined ? {} : { lead: s }) }
}

/** Surface speed (m/s) of the feed at `phase` seconds into its cycle. */
export function feedSpeed(feed: FeedSpec, phase: number): number {
  const profile = new Profile(0)
  for (const piece of movePieces(feed)) profile.add(piece)
  return profile.speedAt(phase)
}

/** How much film the dancer must take up and give each cycle: swing of the integral of (base speed - v), m. */
export function storedSwing(feed: FeedSpec, cycle: number): number {
  const base = feed.pitch / cycle
  const pieces = movePieces(feed)
  let [stored, least, most] = [0, 0, 0]
  const see = () => {
    least = Math.min(least, stored)
    most = Math.max(most, stored)
  }
  pieces.forEach((p, k) => {
    const lasts = (pieces[k + 1]?.at ?? cycle) - p.at
    for (const stretch of turningStretches(p, lasts, base)) {
      stored += stretch
      see()
    }
  })
  return most - least
}

/** Integral of (base - v) over a piece, split where v passes the base speed. */
function turningStretches(p: Piece, lasts: number, base: number): number[] {
  const integral = (s: number) =>
    p.swing === undefined || p.rate === undefined
      ? (base - p.v - (p.a * s) / 2) * s
      : (base - p.swing) * s + (p.swing / p.rate) * Math.sin(p.rate * s)
  const cuts = [0, ...crossings(p, base).filter((s) => s > 0 && s < lasts), lasts]
  return cuts.slice(1).map((s, k) => integral(s) - integral(cuts[k]))
}

function crossings(p: Piece, base: number): number[] {
  if (p.swing !== undefined && p.rate !== undefined) {
    const cosine = 1 - base / p.swing
    if (Math.abs(cosine) > 1) return []
    const s = Math.acos(cosine) / p.rate
    return [s, (2 * Math.PI) / p.rate - s]
  }
  return p.a === 0 ? [] : [(base - p.v) / p.a]
}

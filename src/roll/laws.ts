/**
 * One taper law said in another: the same tension at the full diameter, or as near as it can be all the way.
 *
 * Variables    roll radius r (m), share of the core tension (1)
 * Equations    laws: taper.ts;  same final tension: the setting at which the shares at the full radius agree
 *              least difference: least integral over r of the squared difference of the tensions
 * Neglected    nothing: these are definitions
 * Source       definitions in general trade use; least squares
 */
import { taperShare, type TaperSpec } from '../line/taper'

export type Law = TaperSpec['law']
export type Aim = 'same final tension' | 'least difference'

export interface Conversion {
  readonly taper: TaperSpec
  /** largest difference of tension from the law that was converted, N, from core to full diameter */
  readonly difference: number
}

const POINTS = 200
const MOST_EXPONENT = 3

/** The taper said in another law. */
export function convert(taper: TaperSpec, coreRadius: number, law: Law, aim: Aim): Conversion {
  const converted = law === taper.law ? taper : said(taper, coreRadius, law, aim)
  return { taper: converted, difference: differenceOf(taper, converted, coreRadius).largest }
}

function said(taper: TaperSpec, coreRadius: number, law: Law, aim: Aim): TaperSpec {
  if (law === 'table') return { ...taper, law, table: tableOf(taper, coreRadius) }
  if (law === 'constant') return { ...taper, law, tension: levelTension(taper, coreRadius, aim) }
  const most = law === 'power' ? MOST_EXPONENT : 1
  const set = (value: number): TaperSpec =>
    law === 'power' ? { ...taper, law, exponent: value } : { ...taper, law, taper: value }
  const miss =
    aim === 'least difference'
      ? (value: number) => differenceOf(taper, set(value), coreRadius).squared
      : (value: number) => Math.abs(finalTension(set(value), coreRadius) - finalTension(taper, coreRadius))
  return set(leastOf(miss, most))
}

/** A constant tension ends as the law does, or takes its mean. */
function levelTension(taper: TaperSpec, coreRadius: number, aim: Aim): number {
  if (aim === 'same final tension') return finalTension(taper, coreRadius)
  const tensions = radiiOf(taper, coreRadius).map((r) => tensionAt(taper, coreRadius, r))
  return tensions.reduce((sum, f) => sum + f, 0) / tensions.length
}

/** N, tension asked for at roll radius r (m). */
export const tensionAt = (taper: TaperSpec, coreRadius: number, r: number): number =>
  taper.tension * taperShare({ spec: taper, coreRadius }, taper.taper, r)

export const finalTension = (taper: TaperSpec, coreRadius: number): number =>
  tensionAt(taper, coreRadius, taper.fullDiameter / 2)

function tableOf(taper: TaperSpec, coreRadius: number): [number, number][] {
  const rows = 12
  return Array.from({ length: rows + 1 }, (_, k): [number, number] => {
    const r = coreRadius + ((taper.fullDiameter / 2 - coreRadius) * k) / rows
    return [2 * r, tensionAt(taper, coreRadius, r) / taper.tension]
  })
}

/** Midpoints of even steps from core to full radius. */
function radiiOf({ fullDiameter }: TaperSpec, coreRadius: number): number[] {
  const build = fullDiameter / 2 - coreRadius
  return Array.from({ length: POINTS }, (_, k) => coreRadius + (build * (k + 0.5)) / POINTS)
}

function differenceOf(one: TaperSpec, other: TaperSpec, coreRadius: number): { squared: number; largest: number } {
  let [squared, largest] = [0, 0]
  const apart = (r: number) => tensionAt(one, coreRadius, r) - tensionAt(other, coreRadius, r)
  for (const r of radiiOf(one, coreRadius)) {
    squared += apart(r) ** 2
    largest = Math.max(largest, Math.abs(apart(r)))
  }
  return { squared, largest: Math.max(largest, Math.abs(apart(one.fullDiameter / 2))) }
}

const GOLDEN = (Math.sqrt(5) - 1) / 2

/** Where a function with one valley between 0 and `most` is least: golden section. */
function leastOf(value: (x: number) => number, most: number): number {
  let [low, high] = [0, most]
  let [a, b] = [high - GOLDEN * (high - low), low + GOLDEN * (high - low)]
  let [atA, atB] = [value(a), value(b)]
  while (high - low > 1e-12) {
    if (atA <= atB) {
      ;[high, b, atB] = [b, a, atA]
      a = high - GOLDEN * (high - low)
      atA = value(a)
    } else {
      ;[low, a, atA] = [a, b, atB]
      b = low + GOLDEN * (high - low)
      atB = value(b)
    }
  }
  const best = (low + high) / 2
  return [0, most].reduce((at, edge) => (value(edge) <= value(at) ? edge : at), best)
}

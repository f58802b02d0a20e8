/** What is marked on the time axis, and how the names are laid along it. */
import type { Happening } from '../../run/record'
import type { Trace } from '../state/trace'
import type { Range } from './ranges'

/** Sticking and turning of rollers come by the dozen; they stand in the list, not in the pictures. */
const minor: ReadonlySet<Happening['what']> = new Set(['sticks', 'turns', 'taut', 'stop left'])

export interface Moment {
  readonly at: number
  readonly label: string
}

/** What is marked on the time axis: what was staged, and what came of it. */
export function momentsOf(trace: Trace | null): Moment[] {
  const staged = trace?.plan.events.map(({ at, name }) => ({ at, label: name })) ?? []
  return [...staged, ...happenedIn(trace)].sort((a, b) => a.at - b.at)
}

/** What came of it. */
export function happenedIn(trace: Trace | null): Moment[] {
  const came = trace?.happenings.filter(({ what }) => !minor.has(what) && what !== 'event') ?? []
  return came.map(({ at, part, what }) => ({ at, label: `${part}: ${what}` }))
}

export interface Gathered extends Moment {
  /** How often it happened in a row; the instant is that of the first. */
  readonly times: number
}

/** Repeats that follow each other within this share of the picture are told once. */
const closeBy = 1 / 6

/** The same again and again is one moment with a count, the closer one looks the fewer are put together. */
export function gathered(moments: readonly Moment[], { min, max }: Range): Gathered[] {
  const gap = (max - min) * closeBy
  const found: { at: number; label: string; last: number; times: number }[] = []
  const latest = new Map<string, (typeof found)[number]>()
  for (const { at, label } of moments) {
    if (at < min || at > max) continue
    const before = latest.get(label)
    if (before && at - before.last <= gap) {
      before.last = at
      before.times++
    } else {
      const first = { at, label, last: at, times: 1 }
      latest.set(label, first)
      found.push(first)
    }
  }
  return found.map(({ at, label, times }) => ({ at, label: times > 1 ? `${label}, ${times} times` : label, times }))
}

export interface LaidMoment extends Moment {
  readonly order: number
  /** CSS pixels from the axis' left end */
  readonly tick: number
  readonly left: number
  readonly width: number
  /** 0 or 1; -1 without a label. */
  readonly row: number
}

/** CSS pixels: a letter of the widest usual font at 12 px, and what a label has around its letters. */
const letter = 7.2
const around = 16
const gap = 4

/** In rows; a name that finds no room keeps its tick and stands in the list. */
export function laidOut(
  moments: readonly Moment[],
  place: (time: number) => number,
  length: number,
  rows: number,
): LaidMoment[] {
  const ends = Array.from({ length: rows }, () => -Infinity)
  return moments.flatMap((moment, order) => {
    const tick = place(moment.at)
    if (tick < 0 || tick > length) return []
    const width = Math.ceil(moment.label.length * letter + around)
    const left = Math.max(0, Math.min(tick, length - width))
    const row = width > length ? -1 : ends.findIndex((end) => end + gap <= left)
    if (row >= 0) ends[row] = left + width
    return [{ ...moment, order, tick, left, width, row }]
  })
}

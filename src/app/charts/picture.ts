/** What one chart shows, in shown units: made anew for each redraw, knows neither canvas nor run. */
import type { PinnedLine } from './pinned'
import type { Range } from './ranges'
import type { Stroke } from './strokes'

/** One recorded column of a run. */
export interface Signal extends Stroke {
  /** The run that it is of, and its number there: what has been drawn of it is remembered by these. */
  readonly run: object
  readonly index: number
  /** Shown value over recorded value. */
  readonly factor: number
}

export interface Line {
  readonly signal: Signal
  readonly colour: string
  /** CSS pixels */
  readonly width: number
  readonly dash: readonly number[]
}

/** One value for a stretch of time. */
export interface Stretch {
  /** s */
  readonly from: number
  readonly to: number
  readonly value: number
}

/** A level across the picture, which may change by steps, with its name. */
export interface Mark {
  readonly level: readonly Stretch[]
  readonly label: (value: number) => string
  readonly colour: string
  readonly dash: readonly number[]
  /** Its name stands rather below the line. */
  readonly hangs: boolean
  /** Told only where it lies in the picture; others have an arrow at the edge. */
  readonly near?: boolean
}

export interface Band {
  readonly upper: readonly Stretch[]
  readonly lower: readonly Stretch[]
}

export interface Peak {
  readonly time: number
  readonly value: number
  readonly label: string
  readonly colour: string
}

export interface Picture {
  readonly lines: readonly Line[]
  /** The run before, behind the lines. */
  readonly ghosts: readonly { readonly signal: Signal; readonly width: number }[]
  /** Pinned runs, over the lines. */
  readonly pinned: readonly PinnedLine[]
  /** A recording of the machine, over all of them. */
  readonly recorded: readonly Signal[]
  readonly band: Band | undefined
  readonly marks: readonly Mark[]
  readonly peaks: readonly Peak[]
  /** s, instants at which something happened */
  readonly moments: readonly number[]
  readonly x: Range
  readonly y: Range
  /** Limits or stops lie within y because they were wanted there. */
  readonly reaches: boolean
}

export interface Palette {
  readonly ink: string
  readonly soft: string
  readonly hair: string
  readonly steel: string
  readonly sheet: string
  readonly band: string
  readonly go: string
  readonly warn: string
  readonly bad: string
  readonly good: string
  /** By fifths of the limit, then beyond it. */
  readonly share: readonly string[]
}

const names = ['ink', 'soft', 'hair', 'steel', 'sheet', 'band', 'go', 'warn', 'bad', 'good'] as const

/** The page's tokens as they stand just now. */
export function paletteOf(element: Element): Palette {
  const style = getComputedStyle(element)
  const token = (name: string) => style.getPropertyValue(`--${name}`).trim() || 'CanvasText'
  const plain = Object.fromEntries(names.map((name) => [name, token(name)])) as Record<(typeof names)[number], string>
  return { ...plain, share: ['0', '1', '2', '3', '4', 'over'].map((step) => token(`share-${step}`)) }
}

export function shareStep(share: number): number {
  return share >= 1 ? 5 : Math.min(4, Math.max(0, Math.floor(share * 5)))
}

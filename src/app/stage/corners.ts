/** The corners of the speed profile: where each ramp ends, and the speed that the run starts with. */
import { formatQuantity, parseQuantity, toUnit, fromUnit } from '../../units'
import { at, withValue, type Json, type Path } from '../state/document'
import type { Staged } from './events'
import { tidy } from './times'

export interface Corner {
  /** Of the event in the list; -1 for the start of the run. */
  readonly index: number
  /** s */
  readonly time: number
  /** m/s */
  readonly speed: number
  /** Whether the speed can be chosen: a stop leads to rest. */
  readonly free: boolean
}

export const startPath: Path = ['speed', 'start']

export function cornersOf(document: Json, staged: readonly Staged[]): Corner[] {
  const start = parseQuantity(textAt(document, startPath), 'speed')
  const first = start.ok ? [{ index: -1, time: 0, speed: start.value, free: true }] : []
  const ends = staged.flatMap(({ index, time, lasts, to, act }) =>
    time === undefined || to === undefined ? [] : [{ index, time: time + lasts, speed: to, free: act !== 'stop' }],
  )
  return [...first, ...ends]
}

const textAt = (document: Json, path: Path): string => {
  const found = at(document, path)
  return typeof found === 'string' ? found : ''
}

/** The document with the end of a ramp at another time (s) and speed (m/s). What does not change keeps its text. */
export function cornerMoved(
  document: Json,
  event: Staged | undefined,
  time: number,
  speed: number,
  unit: string,
): Json {
  if (!event) return withSpeed(document, startPath, speed, unit)
  const path: Path = ['stage', event.index]
  const begins = event.time ?? 0
  const takes = tidy(Math.max(time - begins, 0))
  const timed =
    takes > 0 && Math.abs(takes - event.lasts) > 1e-9
      ? withValue(document, [...path, 'in'], formatQuantity(takes, 's', 9))
      : document
  return event.act === 'stop' ? timed : withSpeed(timed, [...path, 'to'], speed, unit)
}

function withSpeed(document: Json, path: Path, speed: number, unit: string): Json {
  const parsed = parseQuantity(textAt(document, path), 'speed')
  if (parsed.ok && Math.abs(parsed.value - speed) < 1e-9) return document
  return withValue(document, path, formatQuantity(speed, parsed.ok ? parsed.unit : unit, 6, 'speed'))
}

/** A hundredth of the highest speed, as a round figure in the shown unit, m/s. */
export function speedStep(top: number, unit: string): number {
  const shown = toUnit(top, unit, 'speed')
  const size = 10 ** Math.floor(Math.log10(Math.max(shown, 1e-6)))
  return fromUnit(size / (shown / size < 3 ? 20 : 10), unit, 'speed')
}

/** On a step, never below rest. */
export const roundedTo = (speed: number, step: number): number => tidy(Math.max(0, Math.round(speed / step)) * step)

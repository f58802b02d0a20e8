/** Instants on the stage: snapped to the recording interval, and free ones found for what is added. */
import { readDocument } from '../../scenario/read'
import type { Json } from '../state/document'

/** Within the run, on a tick. The last tick is the latest at which anything can begin. */
export function snapped(time: number, tick: number, duration: number): number {
  const last = Math.max(0, Math.ceil(duration / tick - 1e-9) - 1)
  return tidy(Math.min(Math.max(0, Math.round(time / tick)), last) * tick)
}

/** Without the dust of a multiplication. */
export const tidy = (value: number): number => Number(value.toPrecision(12))

/** Where something new is wanted: at the cursor, but not where nothing of it would be seen before the run is over. */
export function wanted(cursor: number, duration: number): number {
  return cursor < duration * 0.9 ? cursor : duration / 2
}

/** Beyond the wanted time this many are tried, evenly over the run. */
const tries = 12

/** The wanted time if the scenario can be run with the event there; else the first later one, else the first at all. */
export function freeTime(first: number, tick: number, duration: number, put: (time: number) => Json): number {
  const start = snapped(first, tick, duration)
  const others = Array.from({ length: tries }, (_, k) => snapped(((k + 0.5) * duration) / tries, tick, duration))
  const inTurn = [start, ...others.filter((time) => time > start), ...others.filter((time) => time <= start)]
  return inTurn.find((time) => readDocument(put(time)).ok) ?? start
}

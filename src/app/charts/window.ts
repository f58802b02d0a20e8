/** The stretch of time in the picture, and moving about in it by keys. */
import type { Range } from './ranges'

/** No closer than this many recording intervals across the picture. */
const closest = 5

/** Zooms about an instant that keeps its place; never beyond the run. */
export function zoomed(now: Range, about: number, by: number, duration: number, tick: number): Range {
  const length = Math.min(duration, Math.max((now.max - now.min) * by, tick * closest))
  const share = (about - now.min) / (now.max - now.min)
  return shifted({ min: about - share * length, max: about + (1 - share) * length }, 0, duration)
}

/** Moves the window, stopping at either end of the run. */
export function shifted(now: Range, by: number, duration: number): Range {
  const length = Math.min(now.max - now.min, duration)
  const min = Math.min(Math.max(0, now.min + by), duration - length)
  return { min, max: min + length }
}

/** The window moved just so far that an instant lies in it. */
export function showing(now: Range, time: number, duration: number): Range {
  if (time < now.min) return shifted(now, time - now.min, duration)
  if (time > now.max) return shifted(now, time - now.max, duration)
  return now
}

export interface View {
  readonly cursor: number
  readonly window: Range
}

export interface Run {
  readonly duration: number
  readonly tick: number
}

/** About this many key presses across the picture; with shift a tenth of it at a time. */
const pressesAcross = 100

/** What a key does to cursor and window; undefined when it means nothing here. */
export function afterKey(key: string, shift: boolean, view: View, run: Run): View | undefined {
  const length = view.window.max - view.window.min
  const step = shift ? length / 10 : Math.max(run.tick, length / pressesAcross)
  const to = (time: number): View => {
    const cursor = Math.min(Math.max(0, Math.round(time / run.tick) * run.tick), run.duration)
    return { cursor, window: showing(view.window, cursor, run.duration) }
  }
  const zoom = (by: number): View => ({
    cursor: view.cursor,
    window: zoomed(
      view.window,
      Math.min(Math.max(view.cursor, view.window.min), view.window.max),
      by,
      run.duration,
      run.tick,
    ),
  })
  switch (key) {
    case 'ArrowLeft':
    case 'ArrowDown':
      return to(view.cursor - step)
    case 'ArrowRight':
    case 'ArrowUp':
      return to(view.cursor + step)
    case 'PageDown':
      return to(view.cursor - length / 4)
    case 'PageUp':
      return to(view.cursor + length / 4)
    case 'Home':
      return to(0)
    case 'End':
      return to(run.duration)
    case '+':
    case '=':
      return zoom(0.5)
    case '-':
    case '_':
      return zoom(2)
    case '0':
      return { cursor: view.cursor, window: { min: 0, max: run.duration } }
    default:
      return undefined
  }
}

/** The window between two instants as a hand chose them; null where that is the whole run. */
export function spanned(from: number, to: number, duration: number, tick: number): Range | null {
  const length = Math.min(duration, Math.max(to - from, tick * closest))
  if (length >= duration) return null
  const middle = (from + to) / 2
  return shifted({ min: middle - length / 2, max: middle + length / 2 }, 0, duration)
}

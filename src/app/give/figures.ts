/** The charts of the run in hand as figures: the same lines, limits and stretch of time that the page shows. */
import { compose, linesOf, type Scene } from '../charts/compose'
import { belongs, morePanels, panels, shownKind, type Panel } from '../charts/panels'
import type { Palette } from '../charts/picture'
import { timeRange } from '../charts/ranges'
import { recordedDash } from '../charts/recorded'
import { pinDashes } from '../charts/pinned'
import { spanStates, worstOf } from '../charts/spans'
import { strongKeys } from '../charts/strong'
import { letterOf } from '../compare/pins.svelte'
import { unitOf } from '../shown'
import type { Desk } from '../state/desk.svelte'
import { chartFigure, figureWidth, type ChartFigure } from './chart-figure'

/** A name in a figure's head, with its line. */
export interface FigureRow {
  readonly name: string
  readonly colour: string
  readonly width: number
  readonly dash: string
  readonly left: number
}

export interface Figure {
  readonly key: string
  readonly title: string
  readonly rows: readonly FigureRow[]
  readonly chart: ChartFigure
  /** of the whole, head included */
  readonly height: number
}

export const headHeight = 24
const heights: Readonly<Record<string, number>> = { tension: 300 }
const usualHeight = 170
/** More names than these are not told. */
const few = 4

export function figuresOf(desk: Desk, palette: Palette): Figure[] {
  const { trace } = desk.run
  if (!trace) return []
  const scene = sceneOf(desk, palette)
  const wanted = [...panels, ...morePanels.filter(({ id }) => desk.look.more.has(id))]
  const there = wanted.filter((panel) => trace.plan.channels.some((channel) => belongs(panel, channel)))
  return there.map((panel) => {
    const height = heights[panel.group] ?? usualHeight
    const unit = unitOf(shownKind(panel, scene.measure), scene.system)
    const title = `${panel.title}, ${unit}`
    return {
      key: panel.id,
      title,
      rows: rowsOf(panel, scene, palette, title),
      chart: chartFigure(compose(panel, scene), palette, height),
      height: height + headHeight,
    }
  })
}

function sceneOf({ run, look, pins, recordings }: Desk, palette: Palette): Scene {
  const { trace, result } = run
  const duration = trace?.plan.duration ?? 1
  const worst = trace ? worstOf(spanStates(trace, result)) : undefined
  const span = look.span ?? worst?.name ?? ''
  return {
    trace,
    old: null,
    pins: pins.list.flatMap((pin) =>
      pin.run ? [{ letter: letterOf(pin), mark: pin.mark, trace: pin.run.trace }] : [],
    ),
    recording: recordings.laid,
    result,
    system: look.system,
    measure: look.measure,
    window: timeRange(look.window?.min ?? 0, look.window?.max ?? duration, duration),
    hidden: look.hidden,
    strong: strongKeys(trace?.plan.channels ?? [], span, look.part === null ? '' : `speed/${look.part}`),
    span,
    reach: look.reach,
    palette,
  }
}

function rowsOf(panel: Panel, scene: Scene, palette: Palette, title: string): FigureRow[] {
  const lines = linesOf(panel, scene).filter(({ channel }) => !scene.hidden.has(channel.key))
  const named = lines.length <= few ? lines : lines.filter(({ channel }) => scene.strong.has(channel.key))
  const own = named.map(({ channel, style }) => ({ ...style, name: channel.name, dash: style.dash.join(' ') }))
  const beside = { colour: palette.ink, width: 1.7 }
  const pinned = scene.pins.map(({ letter, mark }) => ({
    ...beside,
    name: `pinned ${letter}`,
    dash: (pinDashes[mark] ?? []).join(' '),
  }))
  const hasRecorded = scene.recording?.recording.lanes.some((lane) =>
    lines.some(({ channel }) => channel.key === lane.channel),
  )
  const recorded = hasRecorded ? [{ ...beside, name: 'recorded', dash: recordedDash.join(' ') }] : []
  let left = 24 + title.length * 9.4
  return [...own, ...pinned, ...recorded].flatMap(({ name, colour, width, dash }) => {
    const row = { name, colour, width: Math.max(1.5, width), dash, left }
    left += 64 + name.length * 8.2
    return left > figureWidth ? [] : [row]
  })
}

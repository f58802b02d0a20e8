/** Makes a chart's picture of a run, the run before it, and the way they are looked at. */
import { factorOf, unitOf, type Measure, type System } from '../shown'
import type { Reach } from '../state/look.svelte'
import type { Result } from '../state/run.svelte'
import type { NumberedChannel, Trace } from '../state/trace'
import { belongs, lineStyle, shownKind, type LineStyle, type Panel } from './panels'
import type { Mark, Palette, Picture, Signal } from './picture'
import { columnsOf, signalsOf, type Columns, type SignalOf } from './columns'
import { pinnedLines, type PinnedTrace } from './pinned'
import type { LaidRecording } from '../state/recordings.svelte'
import { recordedRange, recordedSignals } from './recorded'
import { filmLimits, tensionFrame, type FilmLimits } from './limits'
import { rangeOf } from './levels'
import { limitMarks, peaksOf, stopMarks, stopsOf, torqueMarks } from './marks'
import { gathered, momentsOf } from './moments'
import { dancerRange, extremes, padded, speedRange, union, type Range } from './ranges'
import { spanStates } from './spans'
import { visible } from './strokes'

export interface Scene {
  readonly trace: Trace | null
  readonly old: Trace | null
  readonly pins: readonly PinnedTrace[]
  /** What the machine has recorded, laid over. */
  readonly recording: LaidRecording | null
  readonly result: Result | null
  readonly system: System
  /** How tension is read. */
  readonly measure: Measure
  readonly window: Range
  readonly hidden: ReadonlySet<string>
  /** Channel keys that stand out. */
  readonly strong: ReadonlySet<string>
  /** The span that limits and peaks are told of. */
  readonly span: string
  readonly reach: Reach
  readonly palette: Palette
}

export interface DrawnLine extends NumberedChannel {
  readonly style: LineStyle
}

/** The lines of a chart in the order of the film's path; hidden ones too. */
export function linesOf(panel: Panel, scene: Scene): DrawnLine[] {
  const trace = scene.trace ?? scene.old
  if (!trace) return []
  const shares = new Map(panel.group === 'tension' ? spanStates(trace, scene.result).map((s) => [s.key, s.share]) : [])
  const own = trace.group(panel.group).filter(({ channel }) => belongs(panel, channel))
  return own.map((numbered, order) => {
    const { key } = numbered.channel
    return { ...numbered, style: lineStyle(panel, order, scene.strong.has(key), shares.get(key) ?? 0, scene.palette) }
  })
}

export function compose(panel: Panel, scene: Scene): Picture {
  const { trace, old, hidden, strong, window } = scene
  const factor = factorOf(shownKind(panel, scene.measure), scene.system)
  const column = columnsOf(panel, scene.measure)
  const signal = signalsOf(column, factor)
  const lines = linesOf(panel, scene)
    .filter(({ channel }) => !hidden.has(channel.key))
    .sort((a, b) => Number(strong.has(a.channel.key)) - Number(strong.has(b.channel.key)))
  const drawn = trace ? lines.map(({ index, style }) => ({ ...style, signal: signal(trace, index) })) : []
  const ghosts = old && old !== trace ? ghostsOf(old, lines, strong, signal) : []
  const pinned = pinnedLines(scene, lines, signal)
  const beside = scene.pins.map((pin) =>
    dataOf(
      pin.trace,
      pinned.filter(({ letter }) => letter === pin.letter),
      window,
      column,
    ),
  )
  const recorded = recordedSignals(panel, scene, lines, factor)
  const others = [dataOf(old, ghosts, window, column), recordedRange(recorded, window), ...beside]
  const data = others.reduce(union, dataOf(trace, drawn, window, column))
  const around = surroundings(panel, scene, lines, factor)
  return {
    lines: drawn,
    ghosts,
    pinned,
    recorded,
    band: around.limits && { upper: around.limits.most, lower: around.limits.least },
    marks: around.marks,
    peaks: panel.group === 'tension' ? peaksOf(scene, lines, factor) : [],
    moments: gathered(momentsOf(trace ?? old), window).map(({ at }) => at),
    x: window,
    ...framed(panel, scene, data, around),
  }
}

/** Extremes of what a window shows, in shown units. A whole run knows its own. */
function dataOf(
  trace: Trace | null,
  drawn: readonly { signal: Signal }[],
  { min, max }: Range,
  column: Columns,
): Range | undefined {
  if (!trace || trace.count === 0) return undefined
  const isWhole = min <= 0 && max >= trace.reached
  const { from, to } = visible(trace.time, trace.count, min, max)
  return drawn.reduce<Range | undefined>((all, { signal: { index, values, factor } }) => {
    const one = isWhole ? column(trace, index).extreme : extremes([values], from, to)
    return union(all, one && { min: one.min * factor, max: one.max * factor })
  }, undefined)
}

/** The lines of the run before that have the same names. */
function ghostsOf(
  old: Trace,
  lines: readonly DrawnLine[],
  strong: ReadonlySet<string>,
  signal: SignalOf,
): Picture['ghosts'] {
  const wanted = new Map(lines.map(({ channel }) => [channel.key, strong.has(channel.key)]))
  return old.plan.channels.flatMap(({ key }, index) => {
    const isStrong = wanted.get(key)
    if (isStrong === undefined) return []
    const width = isStrong || wanted.size <= 4 ? 1.8 : 0.7
    return [{ signal: signal(old, index), width }]
  })
}

interface Surroundings {
  readonly marks: readonly Mark[]
  readonly limits?: FilmLimits
  /** What the picture can reach for. */
  readonly levels?: Range
}

function surroundings(panel: Panel, scene: Scene, lines: readonly DrawnLine[], factor: number): Surroundings {
  if (panel.group === 'tension') {
    const limits = filmLimits(scene.trace ?? scene.old, scene.span, factor, scene.measure)
    return limits ? { marks: limitMarks(limits, scene), limits } : { marks: [] }
  }
  if (panel.group === 'dancer') {
    const levels = stopsOf(scene, factor)
    return levels ? { marks: stopMarks(levels, scene), levels } : { marks: [] }
  }
  const marks = panel.group === 'torque' ? torqueMarks(scene, lines, factor) : []
  const levels = marks.reduce<Range | undefined>(
    (all, { level }) => union(all, rangeOf(level, scene.window)),
    undefined,
  )
  return levels ? { marks, levels } : { marks }
}

/** The smallest range that means something, in the shown unit. */
const leastRange: Readonly<Record<string, number>> = {
  'm/min': 0.1,
  'ft/min': 0.3,
  mm: 0.5,
  in: 0.02,
  N: 1,
  lbf: 0.2,
  'N m': 0.1,
  'lbf in': 1,
  '%': 0.1,
  bar: 0.02,
  psi: 0.3,
}

function framed(
  panel: Panel,
  scene: Scene,
  data: Range | undefined,
  { limits, levels }: Surroundings,
): { readonly y: Range; readonly reaches: boolean } {
  const least = leastRange[unitOf(shownKind(panel, scene.measure), scene.system)] ?? 1
  const wish = scene.reach[panel.group]
  if (panel.group === 'tension') return tensionFrame(data, limits, scene.window, wish)
  if (panel.group === 'radius') return { y: padded(data, least), reaches: false }
  if (panel.group !== 'dancer') {
    const reaches = levels !== undefined && (wish ?? false)
    return { y: speedRange(reaches ? union(data, levels) : data, least), reaches }
  }
  const reaches = wish ?? levels !== undefined
  return { y: dancerRange(data, reaches ? levels : undefined, least), reaches }
}

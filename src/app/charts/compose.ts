/** Makes a chart's picture of a run, the run before it, and the way they are looked at. */
import { factorOf, unitOf, type System } from '../shown'
import type { Reach } from '../state/look.svelte'
import type { Result } from '../state/run.svelte'
import type { NumberedChannel, Trace } from '../state/trace'
import { lineStyle, type LineStyle, type Panel } from './panels'
import type { Palette, Picture } from './picture'
import {
  dancerRange,
  extremes,
  limitFits,
  padded,
  speedRange,
  tensionRange,
  union,
  type Range,
  type TensionLimits,
} from './ranges'
import { limitMarks, limitsOf, peaksOf, stopMarks, stopsOf } from './marks'
import { momentsOf } from './moments'
import { spanStates } from './spans'
import { visible } from './strokes'

export interface Scene {
  readonly trace: Trace | null
  readonly old: Trace | null
  readonly result: Result | null
  readonly system: System
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
  return trace.group(panel.group).map((numbered, order) => {
    const { key } = numbered.channel
    return { ...numbered, style: lineStyle(panel, order, scene.strong.has(key), shares.get(key) ?? 0, scene.palette) }
  })
}

export function compose(panel: Panel, scene: Scene): Picture {
  const { trace, old, hidden, strong, window } = scene
  const factor = factorOf(panel.kind, scene.system)
  const lines = linesOf(panel, scene)
    .filter(({ channel }) => !hidden.has(channel.key))
    .sort((a, b) => Number(strong.has(a.channel.key)) - Number(strong.has(b.channel.key)))
  const limits = panel.group === 'tension' ? limitsOf(scene, factor) : undefined
  // Before the first block there are lines without samples: the chart keeps its shape.
  const drawn = lines.map(({ index, style }) => ({
    ...style,
    values: trace ? scaled(trace.values(index), factor) : new Float64Array(),
  }))
  const ghosts = old && old !== trace ? ghostsOf(old, lines, strong, factor) : []
  const data = union(
    trace ? inWindow(trace.time, drawn, window) : undefined,
    old ? inWindow(old.time, ghosts, window) : undefined,
  )
  const stops = panel.group === 'dancer' ? stopsOf(scene, factor) : undefined
  const reaches = scene.reach[panel.group] ?? (limits ? limitFits(data, limits) : stops !== undefined)
  return {
    time: trace?.time ?? new Float64Array(),
    lifts: trace?.lifts ?? [],
    lines: drawn,
    ghosts,
    band: limits && { min: limits.least, max: limits.most },
    marks: [...(limits ? limitMarks(limits, scene) : []), ...(stops ? stopMarks(stops, scene) : [])],
    peaks: panel.group === 'tension' ? peaksOf(scene, lines, factor) : [],
    moments: momentsOf(trace ?? old).map(({ at }) => at),
    x: window,
    y: rangeOf(panel, data, limits, stops, reaches, scene.system),
    reaches,
  }
}

function scaled(values: Float64Array, factor: number): Float64Array {
  return factor === 1 ? values : values.map((value) => value * factor)
}

function inWindow(
  time: Float64Array,
  lines: readonly { values: Float64Array }[],
  { min, max }: Range,
): Range | undefined {
  const { from, to } = visible(time, time.length, min, max)
  return extremes(
    lines.map(({ values }) => values),
    from,
    to,
  )
}

/** The lines of the run before that have the same names. */
function ghostsOf(
  old: Trace,
  lines: readonly DrawnLine[],
  strong: ReadonlySet<string>,
  factor: number,
): Picture['ghosts'] {
  const wanted = new Map(lines.map(({ channel }) => [channel.key, strong.has(channel.key)]))
  return old.plan.channels.flatMap(({ key }, index) => {
    const isStrong = wanted.get(key)
    if (isStrong === undefined) return []
    const width = isStrong || wanted.size <= 4 ? 1.8 : 0.7
    return [{ time: old.time, values: scaled(old.values(index), factor), lifts: old.lifts, width }]
  })
}

/** The smallest range that means something, in the shown unit. */
const leastRange: Readonly<Record<string, number>> = { 'm/min': 0.1, 'ft/min': 0.3, mm: 0.5, in: 0.02, N: 1, lbf: 0.2 }

function rangeOf(
  panel: Panel,
  data: Range | undefined,
  limits: TensionLimits | undefined,
  stops: Range | undefined,
  reaches: boolean,
  system: System,
): Range {
  const least = leastRange[unitOf(panel.kind, system)] ?? 1
  if (panel.group === 'tension') return tensionRange(data, limits, reaches)
  if (panel.group === 'dancer') return dancerRange(data, reaches ? stops : undefined, least)
  return panel.group === 'speed' ? speedRange(data, least) : padded(data, least)
}

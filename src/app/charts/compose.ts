/** Makes a chart's picture of a run, the run before it, and the way they are looked at. */
import type { Happening } from '../../run/record'
import { factorOf, quantityText, seconds, unitOf, type System } from '../shown'
import type { Reach } from '../state/look.svelte'
import type { Result } from '../state/run.svelte'
import type { NumberedChannel, Trace } from '../state/trace'
import { lineStyle, type LineStyle, type Panel } from './panels'
import type { Mark, Palette, Peak, Picture } from './picture'
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

function limitsOf(scene: Scene, factor: number): TensionLimits | undefined {
  const spans = (scene.trace ?? scene.old)?.plan.spans
  const limits = spans?.find(({ name }) => name === scene.span) ?? spans?.[0]
  if (!limits) return undefined
  return { least: limits.least * factor, most: limits.most * factor, elastic: limits.elasticTension * factor }
}

function limitMarks({ least, most, elastic }: TensionLimits, { system, palette }: Scene): Mark[] {
  const unit = unitOf('force', system)
  const text = (value: number) => `${value.toPrecision(3)} ${unit}`
  return [
    { value: elastic, label: `elastic limit ${text(elastic)}`, colour: palette.bad, dash: [8, 4], hangs: false },
    { value: most, label: `band, most ${text(most)}`, colour: palette.good, dash: [2, 3], hangs: false },
    { value: least, label: `band, least ${text(least)}`, colour: palette.good, dash: [2, 3], hangs: true },
  ]
}

/** Of the dancer alone, or the outermost of all: then the stops of each are in the table. */
function stopsOf(scene: Scene, factor: number): Range | undefined {
  const dancers = (scene.trace ?? scene.old)?.plan.dancers ?? []
  const shown = dancers.filter(({ name }) => !scene.hidden.has(`dancer/${name}`))
  if (shown.length === 0) return undefined
  return {
    min: Math.min(...shown.map(({ lowerStop }) => lowerStop)) * factor,
    max: Math.max(...shown.map(({ upperStop }) => upperStop)) * factor,
  }
}

function stopMarks({ min, max }: Range, { palette }: Scene): Mark[] {
  return [
    { value: max, label: 'upper stop: full', colour: palette.ink, dash: [3, 3], hangs: true },
    { value: min, label: 'lower stop: empty', colour: palette.ink, dash: [3, 3], hangs: false },
  ]
}

/** The most, and the least where it leaves the band, of the span that is meant. */
function peaksOf(scene: Scene, lines: readonly DrawnLine[], factor: number): Peak[] {
  const { trace, result, span, system } = scene
  const line = lines.find(({ channel }) => channel.name === span)
  if (!trace || !line || trace.count === 0) return []
  const exact =
    result?.plan === trace.plan ? result.summary.spans.find(({ name }) => name === span)?.tension : undefined
  const extreme = exact ?? trace.extremes[line.index]
  const least = trace.plan.spans.find(({ name }) => name === span)?.least ?? -Infinity
  if (!extreme) return []
  const peak = (value: number, time: number, name: string): Peak => ({
    time,
    value: value * factor,
    label: `${name}${quantityText(value, 'force', system)} at ${seconds(time)}`,
    colour: line.style.colour,
  })
  const most = peak(extreme.max, extreme.atMax, `${span}: `)
  return extreme.min < least ? [most, peak(extreme.min, extreme.atMin, 'least ')] : [most]
}

/** Sticking and turning of rollers come by the dozen; they stand in the list, not in the pictures. */
const minor: ReadonlySet<Happening['what']> = new Set(['sticks', 'turns', 'taut', 'stop left'])

export interface Moment {
  readonly at: number
  readonly label: string
}

/** What is marked on the time axis: what was staged, and what came of it. */
export function momentsOf(trace: Trace | null): Moment[] {
  if (!trace) return []
  const staged = trace.plan.events.map(({ at, name }) => ({ at, label: name }))
  const came = trace.happenings
    .filter(({ what }) => !minor.has(what) && what !== 'event')
    .map(({ at, part, what }) => ({ at, label: `${part}: ${what}` }))
  return [...staged, ...came].sort((a, b) => a.at - b.at)
}

/** A recording of the machine in the pictures: over the traces, in a dash of its own. */
import type { LaidRecording } from '../state/recordings.svelte'
import { strokeOf, type Lane, type Recording } from '../trend/laid'
import type { DrawnLine, Scene } from './compose'
import { gaugeOf } from './gauge'
import type { Panel } from './panels'
import type { Signal, Stretch } from './picture'
import { extremes, union, type Range } from './ranges'
import { samplesUntil, type Stroke } from './strokes'

/** CSS pixels; no pinned run has it. */
export const recordedDash: readonly number[] = [4, 1.5]

/** What it is called in a picture. */
export const recordedName = 'recorded'

const strokes = new WeakMap<Lane, { readonly shift: number; readonly stroke: Stroke }>()

/** On the run's time; made once for each shift. */
export function laidStroke({ recording, shift }: LaidRecording, lane: Lane): Stroke {
  const known = strokes.get(lane)
  if (known?.shift === shift) return known.stroke
  const stroke = strokeOf(recording, shift, lane)
  strokes.set(lane, { shift, stroke })
  return stroke
}

/** Signals of the lanes that belong to lines of a chart. */
export function recordedSignals(
  panel: Panel,
  scene: Scene,
  lines: readonly DrawnLine[],
  factor: number,
): readonly Signal[] {
  const { recording } = scene
  if (!recording) return []
  return lanesFor(recording.recording, lines).map(({ lane, line }) => {
    const stroke = measured(panel, scene, line, laidStroke(recording, lane))
    return { ...stroke, run: stroke, index: 0, factor }
  })
}

const lanesFor = ({ lanes }: Recording, lines: readonly DrawnLine[]) =>
  lanes.flatMap((lane) => {
    const line = lines.find(({ channel }) => channel.key === lane.channel)
    return line ? [{ lane, line }] : []
  })

/** A force (N) in the measure that tension is read in, by the film that lies in the span just then. */
function measured(panel: Panel, scene: Scene, { channel }: DrawnLine, stroke: Stroke): Stroke {
  const trace = scene.trace ?? scene.old
  if (panel.group !== 'tension' || scene.measure === 'force' || !trace) return stroke
  const known = trace.plan.spans.find(({ name }) => name === channel.name)
  const level = gaugeOf(trace, scene.measure).level(1, channel.name, known?.elasticTension ?? NaN)
  return scaled(stroke, level)
}

const scaledStrokes = new WeakMap<Stroke, { readonly key: string; readonly stroke: Stroke }>()

function scaled(stroke: Stroke, level: readonly Stretch[]): Stroke {
  const key = JSON.stringify(level)
  const known = scaledStrokes.get(stroke)
  if (known?.key === key) return known.stroke
  const values = new Float64Array(stroke.values.length)
  let at = 0
  for (let i = 0; i < values.length; i++) {
    while (at + 1 < level.length && (stroke.time[i] ?? 0) >= (level[at]?.to ?? Infinity)) at++
    values[i] = (stroke.values[i] ?? NaN) * (level[at]?.value ?? NaN)
  }
  const made = { time: stroke.time, values, lifts: stroke.lifts }
  scaledStrokes.set(stroke, { key, stroke: made })
  return made
}

/** Extremes of what a window shows, in shown units. */
export function recordedRange(signals: readonly Signal[], { min, max }: Range): Range | undefined {
  return signals.reduce<Range | undefined>((all, { time, values, factor }) => {
    const from = samplesUntil(time, time.length, min - 1e-9)
    const to = samplesUntil(time, time.length, max) - 1
    const one = extremes([values], from, to)
    return union(all, one && { min: one.min * factor, max: one.max * factor })
  }, undefined)
}

/** What was recorded last until `time`, in the measure that is read; undefined before the first and after the last. */
export function recordedAt(panel: Panel, scene: Scene, line: DrawnLine, time: number): number | undefined {
  const [signal] = recordedSignals(panel, scene, [line], 1)
  if (!signal || time > (signal.time.at(-1) ?? -Infinity)) return undefined
  return signal.values[samplesUntil(signal.time, signal.time.length, time) - 1]
}

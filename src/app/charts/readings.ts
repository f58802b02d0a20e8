/** What a chart reads at the cursor. */
import { figure, measured, measuredText, percent } from '../shown'
import type { DrawnLine, Scene } from './compose'
import { strainAt } from './limits'
import type { LineStyle, Panel } from './panels'
import { comparedLines, pinnedAt } from './pinned'
import { recordedAt, recordedName } from './recorded'
import { samplesUntil } from './strokes'
import { gaugeOf } from './gauge'
import type { Trace } from '../state/trace'

export interface LegendRow {
  readonly key: string
  readonly name: string
  readonly style: LineStyle
  readonly hidden: boolean
  readonly strong: boolean
  readonly value: string
  /** What is allowed of it, with its unit: of the span that is meant alone. */
  readonly limit: string
  /** The same of pinned runs and of a recording, where they are drawn beside it. */
  readonly pinned: readonly { readonly letter: string; readonly value: string }[]
}

export interface Readings {
  readonly rows: readonly LegendRow[]
  /** Share of the limit that the span that is meant uses, as words; empty where it means nothing. */
  readonly share: string
}

/** At the last sample until `time`. */
export function readingsOf(panel: Panel, scene: Scene, lines: readonly DrawnLine[], time: number): Readings {
  const trace = scene.trace ?? scene.old
  const sample = trace ? Math.max(0, samplesUntil(trace.time, trace.count, time) - 1) : 0
  const compared = new Set(comparedLines(lines, scene.strong).map(({ channel }) => channel.key))
  const pinnedOf = (key: string) => (compared.has(key) ? pinnedAt(scene, key, time) : [])
  const strain = panel.group === 'tension' && trace && trace.count > 0 ? strainAt(trace, scene.span, sample) : undefined
  const limit = strain && trace ? limitText(strain.limit, trace, scene) : ''
  const rows = lines.map((line) => rowOf(line))
  function rowOf(line: DrawnLine): LegendRow {
    const { channel, index, style } = line
    const { key, name } = channel
    const others = pinnedOf(key).map((one) => ({
      letter: one.letter,
      value: valueAt(panel, scene, one.trace, one.index, one.sample),
    }))
    const recorded = recordedAt(panel, scene, line, time)
    if (recorded !== undefined) others.push({ letter: recordedName, value: textOf(panel, scene, recorded) })
    return {
      key,
      name,
      style,
      hidden: scene.hidden.has(key),
      strong: scene.strong.has(key),
      value: trace && trace.count > 0 ? valueAt(panel, scene, trace, index, sample) : '—',
      limit: key === `tension/${scene.span}` ? limit : '',
      pinned: others,
    }
  }
  return { rows, share: strain ? `limit ${limit}, ${percent(strain.share)} used` : '' }
}

function valueAt(panel: Panel, scene: Scene, trace: Trace, index: number, sample: number): string {
  const isTension = panel.group === 'tension'
  const values = isTension ? gaugeOf(trace, scene.measure).column(index).values : trace.values(index)
  return textOf(panel, scene, values[sample] ?? NaN)
}

const textOf = (panel: Panel, { system, measure }: Scene, value: number): string =>
  panel.group === 'tension' ? measured(value, measure, system) : figure(value, panel.kind, system)

/** Three digits say enough of a limit (N). */
function limitText(limit: number, trace: Trace, { system, measure }: Scene): string {
  const value = limit * gaugeOf(trace, measure).factor(limit)
  if (measure === 'strain') return `${Number((value * 100).toPrecision(3))} %`
  return system === 'metric' && measure === 'force' && limit >= 100
    ? `${Math.round(limit)} N`
    : measuredText(value, measure, system)
}

/** The lines that stand out with their values, as words. */
export function saidOf({ rows, share }: Readings, unit: string): string[] {
  const values = rows
    .filter(({ strong, hidden }) => strong && !hidden)
    .map(({ name, value, pinned }) =>
      [`${name} ${value} ${unit}`, ...pinned.map((one) => `${one.letter} ${one.value}`)].join(', '),
    )
  return share === '' ? values : [...values, share]
}

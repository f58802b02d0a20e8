/** What a chart reads at the cursor. */
import { figure, percent, quantityText } from '../shown'
import type { DrawnLine, Scene } from './compose'
import { strainAt } from './limits'
import type { LineStyle, Panel } from './panels'
import { comparedLines, pinnedAt } from './pinned'
import { samplesUntil } from './strokes'

export interface LegendRow {
  readonly key: string
  readonly name: string
  readonly style: LineStyle
  readonly hidden: boolean
  readonly strong: boolean
  readonly value: string
  /** The same of pinned runs, where they are drawn beside it. */
  readonly pinned: readonly { readonly letter: string; readonly value: string }[]
}

export interface Readings {
  readonly rows: readonly LegendRow[]
  /** Limit of the film in the span that is meant, and the share of it that is used; empty where it means nothing. */
  readonly limit: string
}

/** At the last sample until `time`. */
export function readingsOf(panel: Panel, scene: Scene, lines: readonly DrawnLine[], time: number): Readings {
  const trace = scene.trace ?? scene.old
  const sample = trace ? Math.max(0, samplesUntil(trace.time, trace.count, time) - 1) : 0
  const compared = new Set(comparedLines(lines, scene.strong).map(({ channel }) => channel.key))
  const pinnedOf = (key: string) => (compared.has(key) ? pinnedAt(scene, key, time) : [])
  const rows = lines.map(({ channel: { key, name }, index, style }) => ({
    pinned: pinnedOf(key).map(({ letter, value }) => ({ letter, value: figure(value, panel.kind, scene.system) })),
    key,
    name,
    style,
    hidden: scene.hidden.has(key),
    strong: scene.strong.has(key),
    value: trace && trace.count > 0 ? figure(trace.values(index)[sample] ?? NaN, panel.kind, scene.system) : '—',
  }))
  const strain = panel.group === 'tension' && trace && trace.count > 0 ? strainAt(trace, scene.span, sample) : undefined
  const limit = strain ? `limit ${limitText(strain.limit, scene)}, ${percent(strain.share)} used` : ''
  return { rows, limit }
}

/** Three digits say enough of a limit. */
function limitText(limit: number, { system }: Scene): string {
  return system === 'metric' && limit >= 100 ? `${Math.round(limit)} N` : quantityText(limit, 'force', system)
}

/** The lines that stand out with their values, as words. */
export function saidOf({ rows, limit }: Readings, unit: string): string[] {
  const values = rows
    .filter(({ strong, hidden }) => strong && !hidden)
    .map(({ name, value, pinned }) =>
      [`${name} ${value} ${unit}`, ...pinned.map((one) => `${one.letter} ${one.value}`)].join(', '),
    )
  return limit === '' ? values : [...values, limit]
}

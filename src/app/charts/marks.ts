/** What stands in a picture besides its traces: limits, stops, and the instants of the extremes. */
import type { SpanSummary } from '../../run/summary'
import { percent, quantityText, seconds, unitOf } from '../shown'
import type { DrawnLine, Scene } from './compose'
import type { Mark, Peak } from './picture'
import type { Range, TensionLimits } from './ranges'
import { samplesUntil } from './strokes'

const planOf = (scene: Scene) => (scene.trace ?? scene.old)?.plan

/** What a finished run says of the span that is meant. */
function summaryOf({ result, trace, span }: Scene): SpanSummary | undefined {
  return result && result.plan === trace?.plan ? result.summary.spans.find(({ name }) => name === span) : undefined
}

export function limitsOf(scene: Scene, factor: number): TensionLimits | undefined {
  const spans = planOf(scene)?.spans
  const limits = spans?.find(({ name }) => name === scene.span) ?? spans?.[0]
  if (!limits) return undefined
  return { least: limits.least * factor, most: limits.most * factor, elastic: limits.elasticTension * factor }
}

/** The run's limits are those of the film that lay in the span at its start; another film may have followed it. */
function isFirstFilmOnly(scene: Scene): boolean {
  const limits = planOf(scene)?.spans.find(({ name }) => name === scene.span)
  const span = summaryOf(scene)
  if (!limits || !span) return false
  const share = Math.max(0, span.tension.max) / limits.elasticTension
  return Math.abs(span.limitShare - share) > 0.02 * Math.max(share, span.limitShare)
}

export function limitMarks({ least, most, elastic }: TensionLimits, scene: Scene): Mark[] {
  const { system, palette } = scene
  const unit = unitOf('force', system)
  const film = isFirstFilmOnly(scene) ? ', first film' : ''
  const text = (value: number) => `${value.toPrecision(3)} ${unit}`
  return [
    { value: elastic, label: `elastic limit ${text(elastic)}${film}`, colour: palette.bad, dash: [8, 4], hangs: false },
    { value: most, label: `band, most ${text(most)}${film}`, colour: palette.good, dash: [2, 3], hangs: false },
    { value: least, label: `band, least ${text(least)}`, colour: palette.good, dash: [2, 3], hangs: true },
  ]
}

/** Of the dancer alone, or the outermost of all: then the stops of each are in the table. */
export function stopsOf(scene: Scene, factor: number): Range | undefined {
  const shown = (planOf(scene)?.dancers ?? []).filter(({ name }) => !scene.hidden.has(`dancer/${name}`))
  if (shown.length === 0) return undefined
  return {
    min: Math.min(...shown.map(({ lowerStop }) => lowerStop)) * factor,
    max: Math.max(...shown.map(({ upperStop }) => upperStop)) * factor,
  }
}

export function stopMarks({ min, max }: Range, { palette }: Scene): Mark[] {
  return [
    { value: max, label: 'upper stop: full', colour: palette.ink, dash: [3, 3], hangs: true },
    { value: min, label: 'lower stop: empty', colour: palette.ink, dash: [3, 3], hangs: false },
  ]
}

/** Where the span that is meant is strained most, where its tension is highest, and lowest if that leaves the band. */
export function peaksOf(scene: Scene, lines: readonly DrawnLine[], factor: number): Peak[] {
  const { trace, span, system } = scene
  const line = lines.find(({ channel }) => channel.name === span)
  if (!trace || !line || trace.count === 0) return []
  const exact = summaryOf(scene)
  const extreme = exact?.tension ?? trace.extremes[line.index]
  const least = trace.plan.spans.find(({ name }) => name === span)?.least ?? -Infinity
  if (!extreme) return []
  const peak = (value: number, time: number, label: string): Peak => {
    return { time, value: value * factor, label, colour: line.style.colour }
  }
  const at = (value: number, time: number) => `${quantityText(value, 'force', system)} at ${seconds(time)}`
  const share = exact ? `${percent(exact.limitShare)} of its limit` : ''
  const together = exact !== undefined && Math.abs(exact.limitAt - extreme.atMax) < trace.plan.tick
  const most = `${span}: ${at(extreme.max, extreme.atMax)}${together ? `, ${share}` : ''}`
  const peaks = [peak(extreme.max, extreme.atMax, most)]
  if (exact && !together) {
    const sample = Math.max(0, samplesUntil(trace.time, trace.count, exact.limitAt) - 1)
    peaks.push(peak(trace.values(line.index)[sample] ?? NaN, exact.limitAt, `${share} at ${seconds(exact.limitAt)}`))
  }
  if (extreme.min < least) peaks.push(peak(extreme.min, extreme.atMin, `least ${at(extreme.min, extreme.atMin)}`))
  return peaks
}

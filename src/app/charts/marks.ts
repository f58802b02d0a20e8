/** What stands in a picture besides its traces: limits, stops, and the instants of the extremes. */
import type { SpanSummary } from '../../run/summary'
import { measuredText, measureKinds, percent, quantityText, seconds, unitOf } from '../shown'
import type { DrawnLine, Scene } from './compose'
import type { Mark, Peak } from './picture'
import { gaugeOf } from './gauge'
import type { FilmLimits } from './limits'
import { always } from './levels'
import type { Range } from './ranges'
import { samplesUntil } from './strokes'

const planOf = (scene: Scene) => (scene.trace ?? scene.old)?.plan

/** What a finished run says of the span that is meant. */
function summaryOf({ result, trace, span }: Scene): SpanSummary | undefined {
  return result && result.plan === trace?.plan ? result.summary.spans.find(({ name }) => name === span) : undefined
}

export function limitMarks({ least, most, elastic }: FilmLimits, { system, palette, measure }: Scene): Mark[] {
  const unit = unitOf(measureKinds[measure], system)
  const says = (what: string) => (value: number) => `${what} ${value.toPrecision(3)} ${unit}`
  const edge = { colour: palette.good, dash: [2, 3] }
  return [
    { level: elastic, label: says('elastic limit'), colour: palette.bad, dash: [8, 4], hangs: false },
    { level: most, label: says('band, most'), ...edge, hangs: false },
    { level: least, label: says('band, least'), ...edge, hangs: true },
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
  const stop = { colour: palette.ink, dash: [3, 3] }
  return [
    { level: always(max), label: () => 'upper stop: full', ...stop, hangs: true },
    { level: always(min), label: () => 'lower stop: empty', ...stop, hangs: false },
  ]
}

/** Torque limits of the drives that are drawn, as a finished run tells them; below zero where a drive goes there. */
export function torqueMarks(scene: Scene, lines: readonly DrawnLine[], factor: number): Mark[] {
  const { result, trace, system } = scene
  if (!trace || result?.plan !== trace.plan) return []
  return lines.flatMap(({ channel, index, style: { colour } }): Mark[] => {
    const drive = result.summary.drives.find(({ name }) => name === channel.name)
    if (!drive?.limitShare) return []
    const limit = drive.peakTorque / drive.limitShare
    const isBraking = (trace.extremes[index]?.min ?? 0) < 0
    const text = `limit of ${drive.name} ${isBraking ? '±' : ''}${quantityText(limit, 'torque', system)}`
    const mark = { colour, dash: [2, 3], hangs: false, near: true }
    const upper = { ...mark, level: always(limit * factor), label: () => text }
    return isBraking ? [upper, { ...mark, level: always(-limit * factor), label: () => '' }] : [upper]
  })
}

/** Where the span that is meant is strained most, where its tension is highest, and lowest if that leaves the band. */
export function peaksOf(scene: Scene, lines: readonly DrawnLine[], factor: number): Peak[] {
  const { trace, span, measure, system } = scene
  const line = lines.find(({ channel }) => channel.name === span)
  const extreme =
    line && trace && trace.count > 0
      ? gaugeOf(trace, measure).extreme(line.index, summaryOf(scene)?.tension)
      : undefined
  if (!trace || !line || !extreme) return []
  const exact = summaryOf(scene)
  const known = trace.plan.spans.find(({ name }) => name === span)
  const peak = (value: number, time: number, label: string): Peak => {
    return { time, value: value * factor, label, colour: line.style.colour }
  }
  const at = (value: number, time: number) => `${measuredText(value, measure, system)} at ${seconds(time)}`
  const share = exact ? `${percent(exact.limitShare)} of its limit` : ''
  const together = exact !== undefined && Math.abs(exact.limitAt - extreme.atMax) < trace.plan.tick
  const most = `${span}: ${at(extreme.max, extreme.atMax)}${together ? `, ${share}` : ''}`
  const peaks = [peak(extreme.max, extreme.atMax, most)]
  if (exact && !together) {
    const sample = Math.max(0, samplesUntil(trace.time, trace.count, exact.limitAt) - 1)
    const { values } = gaugeOf(trace, measure).column(line.index)
    peaks.push(peak(values[sample] ?? NaN, exact.limitAt, `${share} at ${seconds(exact.limitAt)}`))
  }
  const force = exact?.tension ?? trace.extremes[line.index]
  if (known && force && force.min < known.least)
    peaks.push(peak(extreme.min, extreme.atMin, `least ${at(extreme.min, extreme.atMin)}`))
  return peaks
}

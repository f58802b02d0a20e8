/** A finished run for people to read. Metric units, as on the screen. */
import type { RunPlan } from '../run/record'
import type { Summary } from '../run/summary'
import { formatNumber, kinds, toUnit, type Kind } from '../units'
import { verdict, type Severity } from '../verdict/verdict'
import { table } from './table'

export const marks: Readonly<Record<Severity, string>> = { bad: '!!', warn: '! ', ok: '  ' }

export function report(summary: Summary, plan: RunPlan): string[] {
  const { sentences, weakest } = verdict(summary, plan, 'metric')
  return [
    summary.title,
    '',
    ...sentences.map(({ severity, text }) => `${marks[severity]} ${text}`),
    '',
    ...spans(summary),
    ...dancers(summary),
    ...drives(summary),
    '',
    film(summary),
    solver(summary),
    `${weakest} The figures advise; they certify nothing.`,
  ]
}

function figure(value: number, kind: Kind, digits = 4): string {
  return formatNumber(toUnit(value, kinds[kind].metric, kind), digits)
}

function spans({ spans }: Summary): string[] {
  const head = ['span', 'start N', 'end N', 'least N', 'at s', 'greatest N', 'at s', '% of elastic limit', 'slack s']
  return table(
    head,
    spans.map(({ name, tension, limitShare, slackSeconds }) => [
      name,
      figure(tension.start, 'force'),
      figure(tension.end, 'force'),
      figure(tension.min, 'force'),
      figure(tension.atMin, 'time'),
      figure(tension.max, 'force'),
      figure(tension.atMax, 'time'),
      figure(limitShare, 'fraction', 3),
      figure(slackSeconds, 'time'),
    ]),
  )
}

function dancers({ dancers }: Summary): string[] {
  if (dancers.length === 0) return []
  const head = ['dancer', 'start mm', 'end mm', 'least mm', 'greatest mm', '% of travel', 'ripple mm', 'on a stop s']
  const rows = dancers.map(({ name, start, end, min, max, travelUsed, ripple, stopSeconds }) => [
    name,
    ...[start, end, min, max].map((position) => figure(position, 'travel')),
    figure(travelUsed, 'fraction', 3),
    figure(ripple, 'travel', 3),
    figure(stopSeconds, 'time'),
  ])
  return ['', ...table(head, rows)]
}

function drives({ drives }: Summary): string[] {
  if (drives.length === 0) return []
  const rows = drives.map(({ name, peakTorque, limitShare }) => [
    name,
    figure(peakTorque, 'torque'),
    limitShare === null ? 'no limit' : figure(limitShare, 'fraction', 3),
  ])
  return ['', ...table(['drive', 'peak N m', '% of its limit'], rows)]
}

function film({ film }: Summary): string {
  const { unwound, wound, held, scrap } = film
  const metres = (value: number) => `${formatNumber(value, 5)} m`
  return `Film: ${metres(unwound)} unwound, ${metres(wound)} wound, ${metres(held)} in the line, ${metres(scrap)} scrap.`
}

function solver({ solver: { steps, evaluations, events } }: Summary): string {
  return `Computed in ${steps} steps with ${evaluations} evaluations and ${events} switches.`
}

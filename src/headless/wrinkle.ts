/** `wrinkle FILE`: the scenario is run, and each of its spans held against its limits over the tensions that it met. */
import { prepare } from '../run/prepare'
import type { Outcome } from '../run/outcome'
import { readDocument } from '../scenario/read'
import type { Scenario } from '../scenario/schema'
import { formatNumber, kinds, toUnit, type Kind } from '../units'
import { lineSpans, needed, type LineSpan } from '../wrinkle'
import type { PlainCommand } from './arguments'
import { exitCodes } from './exit'
import { documentFrom, textOf } from './input'
import type { Surroundings } from './run'
import { table } from './table'

export function wrinkleCommand(command: PlainCommand, around: Surroundings): number {
  const text = textOf(command.file, around)
  if (text === undefined) return exitCodes.usage
  const given = documentFrom(text, command.sets)
  const reading = given.ok ? readDocument(given.document) : given
  const outcome: Outcome =
    given.ok && reading.ok
      ? runOf(given.document)
      : { outcome: 'refused', problems: reading.ok ? [] : reading.problems }
  if (outcome.outcome === 'finished' && reading.ok && 'scenario' in reading) {
    tell(reading.scenario, lineSpans(reading.scenario, outcome.summary.spans), command, around)
    return exitCodes.finished
  }
  if (command.json) around.print(JSON.stringify(outcome, null, 2))
  if (outcome.outcome === 'refused') for (const { say } of outcome.problems) around.complain(say)
  if (outcome.outcome === 'failed') around.complain(`Broke off at ${outcome.at} s (${outcome.state}): ${outcome.say}`)
  return outcome.outcome === 'refused' ? exitCodes.refused : exitCodes.failed
}

function runOf(document: unknown): Outcome {
  const run = prepare(document)
  if (!('step' in run)) return run
  for (;;) {
    const outcome = run.step()
    // samples are not wanted, and must not pile up
    run.takeBlock()
    if (outcome !== undefined) return outcome
  }
}

function tell(scenario: Scenario, spans: readonly LineSpan[], command: PlainCommand, around: Surroundings): void {
  if (command.json) around.print(JSON.stringify({ title: scenario.title, spans: spans.map(plain) }, null, 2))
  else for (const line of report(scenario.title, spans)) around.print(line)
}

/** SI; critical misalignments in rad. Null where film hangs slack, and where nothing bounds a figure. */
function plain({ name, length, tension, worst }: LineSpan): object {
  if (worst === null) return { name, length, tension, slack: true }
  const { assessment: a, ...at } = worst
  const grip = { ...a.grip, held: Number.isFinite(a.grip.held) ? a.grip.held : null }
  return {
    ...{ name, length, tension, slack: false, worstAt: at, strainShare: a.strainShare },
    troughs: { limit: a.troughs.limit, wavelength: a.troughs.wavelength, critical: a.span.critical },
    fold: { limit: a.roller.limit, critical: a.roller.critical },
    ...{ slackEdge: a.slackAt, grip },
  }
}

const figure = (value: number, kind: Kind, digits = 3) => formatNumber(toUnit(value, kinds[kind].metric, kind), digits)

function report(title: string, spans: readonly LineSpan[]): string[] {
  const head = ['span', 'least N', 'greatest N', 'troughs mm/m', 'by mean shear', 'slack edge', 'fold', 'wavelength mm']
  const rows = spans.map(({ name, tension, worst }) => {
    const ends = [figure(tension.min, 'force'), figure(tension.max, 'force')]
    if (worst === null) return [name, ...ends, 'hangs slack', '', '', '', '']
    const { span, roller, slackAt, troughs } = worst.assessment
    const slopes = [span.critical.peak, span.critical.mean, slackAt, roller.critical.mean]
    return [name, ...ends, ...slopes.map((value) => figure(value, 'slope')), figure(troughs.wavelength, 'travel')]
  })
  const worst = spans.find((span) => span.worst !== null)
  const asked =
    worst && `Align every roller to ${figure(needed(worst), 'slope')} mm/m or better: ${worst.name} asks for it.`
  return [
    title,
    '',
    ...(asked === undefined ? [] : [asked, '']),
    ...table(head, rows),
    '',
    'Critical misalignment in mm/m, by the peak of shear at mid width unless said otherwise. A fold beyond the slack edge is',
    'an outlook, not an answer. No safety is added. Rests on illustrative friction and roughness where the scenario states none.',
    'The figures advise; they certify nothing.',
  ]
}

/** `roll FILE`: the roll that a scenario winds, its limits, and a better taper. */
import { advise, buildAt, driveTable, type Advice, type Finding } from '../roll'
import { ringChannels, rollReport, wantsRun, type RollReport, type Samples } from '../roll/job'
import { prepare } from '../run/prepare'
import type { Problem } from '../units'
import { formatNumber, kinds, toUnit, type Kind } from '../units'
import { adviceText, notesText, rollVerdict, weakestOfRoll } from '../verdict/roll'
import type { RollCommand } from './arguments'
import { exitCodes } from './exit'
import { documentFrom, textOf } from './input'
import { marks } from './report'
import type { Surroundings } from './run'
import { table } from './table'

const STEPS = 10

export function rollCommand(command: RollCommand, around: Surroundings): number {
  const text = textOf(command.file, around)
  if (text === undefined) return exitCodes.usage
  const reading = documentFrom(text, command.sets)
  if (!reading.ok) return refused(reading.problems, command, around)
  const { document } = reading
  const report = rollReport({ document, run: wantsRun(document) ? samplesOf(document) : undefined })
  if ('outcome' in report) return refused(report.problems, command, around)
  for (const note of notesText(report.notes)) around.complain(note)
  const advice = advise(report.result.input)
  const lines = command.json ? [jsonOf(report, advice)] : textFor(report, advice)
  for (const line of lines) around.print(line)
  const broken = report.findings.some(({ share }) => share > 1)
  return command.strict && broken ? exitCodes.limit : exitCodes.finished
}

function refused(problems: readonly Problem[], command: RollCommand, around: Surroundings): number {
  if (command.json) around.print(JSON.stringify({ outcome: 'refused', problems }, null, 2))
  for (const { say } of problems) around.complain(say)
  return exitCodes.refused
}

/** The scenario's run, as far as it comes: radius of the roll and wound-on tension. */
function samplesOf(document: unknown): Samples | undefined {
  const run = prepare(document)
  if (!('step' in run)) return undefined
  const channels = ringChannels(run.plan.channels)
  if (channels === undefined) return undefined
  const [radius, tension]: [number[], number[]] = [[], []]
  let outcome
  while (outcome === undefined) {
    outcome = run.step()
    const block = run.takeBlock()
    if (block === undefined) continue
    const column = (k: number) => block.data.subarray((k + 1) * block.count, (k + 2) * block.count)
    radius.push(...column(channels.radius))
    tension.push(...column(channels.tension))
  }
  return { radius, tension, whole: outcome.outcome === 'finished' }
}

function jsonOf({ result, findings, turns, notes }: RollReport, advice: Advice | undefined): string {
  const { input, wound, later } = result
  const arrays = (state: { radius: Float64Array; pressure: Float64Array; hoop: Float64Array }) => ({
    radius: [...state.radius],
    pressure: [...state.pressure],
    hoop: [...state.hoop],
  })
  const told = ({ key, when, value, limit, share, radius, rests }: Finding, k: number) => {
    return { key, when, value, limit, share, radius, rests, turns: turns[k] }
  }
  return JSON.stringify(
    {
      ...{ title: input.title, outcome: result.outcome, shells: wound.shells, notes },
      ...{ roll: buildAt(input, input.fullRadius), table: driveTable(input, STEPS) },
      ...{ findings: findings.map(told), wound: arrays(wound) },
      later: later === undefined ? null : { ...arrays(later), apart: later.apart },
      advice:
        advice === undefined
          ? null
          : {
              ...{ rule: advice.rule, taper: advice.best.taper, tried: advice.tried },
              flatness: advice.best.flatness,
              worst: advice.best.worst,
            },
    },
    null,
    2,
  )
}

const figure = (value: number, kind: Kind, digits = 4) => formatNumber(toUnit(value, kinds[kind].metric, kind), digits)

function textFor({ result, findings, turns }: RollReport, advice: Advice | undefined): string[] {
  const { input } = result
  const sentences = rollVerdict(findings, turns, 'metric')
  const { laps, length, mass } = buildAt(input, input.fullRadius)
  return [
    input.title,
    '',
    ...sentences.map(({ severity, text, turn }) => `${marks[severity]} ${text}${turn === '' ? '' : ` ${turn}`}`),
    '',
    ...pressures(result),
    '',
    ...drive(result),
    '',
    `Full roll: ${formatNumber(length, 5)} m of film in ${formatNumber(laps, 5)} laps, ${formatNumber(mass, 4)} kg.`,
    ...(advice === undefined ? [] : adviceText(advice, 'metric')),
    `${weakestOfRoll(findings)} The figures advise; they certify nothing.`,
  ]
}

function pressures({ wound, later }: RollReport['result']): string[] {
  const head = ['diameter mm', 'pressure kPa', 'hoop stress MPa', ...(later ? ['later kPa', 'later MPa'] : [])]
  const rows = Array.from({ length: STEPS + 1 }, (_, k) => Math.round((k * (wound.radius.length - 1)) / STEPS))
  const kilopascals = (p: number) => formatNumber(p / 1e3, 4)
  return table(
    head,
    rows.map((i) => [
      figure(2 * wound.radius[i], 'diameter'),
      kilopascals(wound.pressure[i]),
      figure(wound.hoop[i], 'stress'),
      ...(later ? [kilopascals(later.pressure[i]), figure(later.hoop[i], 'stress')] : []),
    ]),
  )
}

function drive({ input }: RollReport['result']): string[] {
  const head = ['diameter mm', 'tension N', '%', 'torque N m', 'rpm', 'length m']
  return table(
    head,
    driveTable(input, STEPS).map(({ diameter, tension, share, torque, turnRate, length }) => [
      figure(diameter, 'diameter'),
      figure(tension, 'force'),
      figure(share, 'fraction'),
      figure(torque, 'torque'),
      formatNumber(toUnit(turnRate, 'rpm'), 4),
      formatNumber(length, 4),
    ]),
  )
}

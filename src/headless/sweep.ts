/** `sweep FILE`: the scenario run again and again with some fields changed, a row for each case. */
import { readDocument } from '../scenario/read'
import { sweepCases, type CaseResult } from '../tune/sweep'
import { casesOf, MOST_CASES, variationOf, type Case, type Variation } from '../tune/vary'
import { exitCodes } from './exit'
import { documentFrom, textOf, unusable } from './input'
import type { Surroundings } from './run'
import type { SweepCommand } from './sweep-arguments'
import { sweepCsv, sweepJson, sweepTable, type Row } from './sweep-output'

export function sweepCommand(command: SweepCommand, around: Surroundings): number {
  const text = textOf(command.file, around)
  if (text === undefined) return exitCodes.usage
  const reading = documentFrom(text, command.sets)
  if (!reading.ok) return refused(around, ...reading.problems.map(({ say }) => say))
  const { document } = reading
  const asItStands = readDocument(document)
  if (!asItStands.ok) return refused(around, ...asItStands.problems.map(({ say }) => say))
  const varying = command.vary.map((ends) => variationOf(document, ends))
  const bad = varying.flatMap((one) => (one.ok ? [] : [one.say]))
  if (bad.length > 0) return refused(around, ...bad)
  const variations = varying.flatMap((one) => (one.ok ? [one.variation] : []))
  const count = variations.reduce((product, { values }) => product * values.length, 1)
  if (count > MOST_CASES) {
    return refused(around, `--vary: these are ${count} cases, at most ${MOST_CASES} are run. Take fewer values.`)
  }
  const rows = rowsOf(document, variations, command.share)
  return tell(rows, variations, command, around)
}

function refused(around: Surroundings, ...lines: readonly string[]): number {
  for (const line of lines) around.complain(line)
  return exitCodes.refused
}

/** Cases are dealt out one by one, so that the shares take about equally long. */
function rowsOf(document: unknown, variations: readonly Variation[], { number, of }: SweepCommand['share']): Row[] {
  const compute = sweepCases({ document, paths: variations.map(({ path }) => path) })
  return casesOf(variations).flatMap((values, index) =>
    index % of === number - 1 ? [{ number: index + 1, values, result: toEnd(compute, values) }] : [],
  )
}

function toEnd(compute: ReturnType<typeof sweepCases>, values: Case): CaseResult {
  const work = compute(values)
  for (;;) {
    const step = work.next()
    if (step.done === true) return step.value
  }
}

function tell(
  rows: readonly Row[],
  variations: readonly Variation[],
  command: SweepCommand,
  around: Surroundings,
): number {
  if (command.json) around.print(sweepJson(rows, variations, command.share))
  else for (const line of sweepTable(rows, variations)) around.print(line)
  for (const { number, result } of rows) {
    if (result.outcome !== 'finished') around.complain(`Case ${number} ${result.outcome}: ${result.say}`)
  }
  if (command.csv !== undefined) {
    try {
      const output = around.write(command.csv)
      output.append(sweepCsv(rows, variations))
      output.close()
    } catch (error) {
      return unusable(around, command.csv, 'cannot be written', error)
    }
    if (!command.json) around.print(`The figures are in ${command.csv}.`)
  }
  if (rows.some(({ result }) => result.outcome === 'refused')) return exitCodes.refused
  return rows.some(({ result }) => result.outcome === 'failed') ? exitCodes.failed : exitCodes.finished
}

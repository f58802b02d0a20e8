/** `run FILE`: from text to an outcome, printed or written. Knows files only through `Surroundings`. */
import { prepare } from '../run/prepare'
import type { Failed, Outcome, Refused } from '../run/outcome'
import type { Block, RunPlan } from '../run/record'
import type { RunCommand } from './arguments'
import { csvHead, csvLines } from '../run/csv'
import { exitCodes } from './exit'
import { documentFrom, textOf, unusable } from './input'
import { jsonText } from './json'
import { breaksLimit } from './limits'
import { report } from './report'

export interface Surroundings {
  /** '-': standard input */
  readonly read: (file: string) => string
  /** Opens a file to write to; each call appends. */
  readonly write: (file: string) => { append(text: string): void; close(): void }
  readonly print: (line: string) => void
  readonly complain: (line: string) => void
  /** ms */
  readonly now: () => number
}

/** What is used of a run. */
interface Steps {
  readonly plan: RunPlan
  step(): Outcome | undefined
  takeBlock(): Block | undefined
}

type Prepare = (document: unknown) => Steps | Refused | Failed

/** Ticks between two times that the samples are fetched: they must not pile up over an hour of line time. */
const ticksPerBlock = 500

export function runCommand(command: RunCommand, around: Surroundings, make: Prepare = prepare): number {
  const text = textOf(command.file, around)
  if (text === undefined) return exitCodes.usage
  const began = around.now()
  const document = documentFrom(text, command.sets)
  if (!document.ok) return tell({ outcome: 'refused', problems: document.problems }, command, around, began)
  const run = make(document.document)
  if (!('step' in run)) return tell(run, command, around, began)
  try {
    const outcome = runToEnd(run, samplesInto(command.csv, run.plan, around))
    return tell(outcome, command, around, began, run.plan)
  } catch (error) {
    if (error instanceof CannotWrite) return unusable(around, error.file, 'cannot be written', error.cause)
    throw error
  }
}

interface Sink {
  take(block: Block): void
  close(): void
}

class CannotWrite extends Error {
  constructor(
    readonly file: string,
    cause: unknown,
  ) {
    super(file, { cause })
  }
}

/** Nothing is written before the run is ready: a refused scenario leaves an older file alone. */
function samplesInto(file: string | undefined, plan: RunPlan, around: Surroundings): Sink {
  if (file === undefined) return { take: () => undefined, close: () => undefined }
  const attempt = <T>(act: () => T): T => {
    try {
      return act()
    } catch (error) {
      throw new CannotWrite(file, error)
    }
  }
  const output = attempt(() => around.write(file))
  attempt(() => output.append(csvHead(plan.channels)))
  return {
    take: (block) => attempt(() => output.append(csvLines(block))),
    close: () => attempt(() => output.close()),
  }
}

function runToEnd(run: Steps, sink: Sink): Outcome {
  let outcome: Outcome | undefined
  do {
    for (let tick = 0; tick < ticksPerBlock && outcome === undefined; tick++) outcome = run.step()
    const block = run.takeBlock()
    if (block) sink.take(block)
  } while (outcome === undefined)
  sink.close()
  return outcome
}

function tell(outcome: Outcome, command: RunCommand, around: Surroundings, began: number, plan?: RunPlan): number {
  const wallMs = command.timing ? Math.round((around.now() - began) * 10) / 10 : undefined
  if (command.json) around.print(jsonText(outcome, wallMs))
  if (outcome.outcome !== 'finished' || !plan) return tellTrouble(outcome, around)
  if (!command.json) {
    for (const line of report(outcome.summary, plan)) around.print(line)
    if (command.csv !== undefined) around.print(`Samples are in ${command.csv}.`)
    if (wallMs !== undefined) around.print(`Computing time: ${wallMs} ms.`)
  }
  return command.strict && breaksLimit(outcome.summary, plan) ? exitCodes.limit : exitCodes.finished
}

function tellTrouble(outcome: Outcome, around: Surroundings): number {
  if (outcome.outcome === 'refused') {
    for (const { say } of outcome.problems) around.complain(say)
    return exitCodes.refused
  }
  if (outcome.outcome === 'failed') around.complain(`Broke off at ${outcome.at} s (${outcome.state}): ${outcome.say}`)
  return exitCodes.failed
}

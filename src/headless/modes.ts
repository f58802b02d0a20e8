/** `modes FILE`: how the line swings and dies away about its steady state, and what margin its loops have. */
import { readDocument } from '../scenario/read'
import type { Scenario } from '../scenario/schema'
import {
  loopGain,
  marginCourse,
  modesOf,
  plantOf,
  standAt,
  trimsOf,
  worstOf,
  type LoopGain,
  type MarginPoint,
  type Modes,
  type Trouble,
} from '../tune'
import { formatNumber, formatQuantity } from '../units'
import type { PlainCommand } from './arguments'
import { exitCodes } from './exit'
import { documentFrom, textOf } from './input'
import type { Surroundings } from './run'
import { table } from './table'

export function modesCommand(command: PlainCommand, around: Surroundings): number {
  const text = textOf(command.file, around)
  if (text === undefined) return exitCodes.usage
  const document = documentFrom(text, command.sets)
  const reading = document.ok ? readDocument(document.document) : document
  if (!reading.ok) {
    for (const { say } of reading.problems) around.complain(say)
    return exitCodes.refused
  }
  const found = modesOf(reading.scenario)
  if (!found.ok) {
    around.complain(found.say)
    return exitCodes.failed
  }
  const loops = loopsOf(reading.scenario)
  if (command.json) around.print(JSON.stringify(content(reading.scenario.title, found, loops), null, 2))
  else for (const line of lines(reading.scenario.title, found, loops)) around.print(line)
  return exitCodes.finished
}

/** A loop where the line stands, and where on its way from core to full and through the speeds it has least phase margin. */
type Told = (LoopGain & { readonly worst: (MarginPoint & { ok: true }) | undefined }) | Trouble

function loopsOf(scenario: Scenario): Told[] {
  const standing = standAt(scenario)
  if (!standing.ok) return []
  const plant = plantOf(standing, false)
  return trimsOf(scenario).map((_, k) => {
    const loop = loopGain(plant, k)
    return loop.ok ? { ...loop, worst: worstOf(courseOf(scenario, k)) } : loop
  })
}

function courseOf(scenario: Scenario, k: number): MarginPoint[] {
  const steps = marginCourse(scenario, k)
  let next = steps.next()
  while (next.done !== true) next = steps.next()
  return next.value
}

function content(title: string, found: Modes, loops: readonly Told[]): object {
  const { ok, ...figures } = found
  const told = loops.map((loop) => {
    if (!loop.ok) return { outcome: 'none', say: loop.say }
    const { name, measures, drives, stable, margins, method, worst } = loop
    const least = worst && { ...worst.point, stable: worst.loop.stable, margins: worst.loop.margins }
    return { outcome: 'found', name, measures, drives, stable, margins, method, worst: least ?? null }
  })
  return { title, outcome: ok ? 'found' : 'none', ...figures, loops: told }
}

function lines(title: string, found: Modes, loops: readonly Told[]): string[] {
  const { point, dancers, modes, fastest, notes, stable } = found
  const hertz = (value: number) => formatNumber(value, 4)
  return [
    title,
    `at ${formatQuantity(point.speed, 'm/min', 4)}, unwind ${formatQuantity(point.unwindDiameter, 'mm', 4)}, rewind ${formatQuantity(point.rewindDiameter, 'mm', 4)}`,
    '',
    ...(dancers.length === 0 ? [] : dancerTable(dancers)),
    ...table(
      ['mode', 'Hz', 'damping %', 'time constant s'],
      modes.map((m) => [
        `${m.kind}: ${m.parts[0]?.part ?? ''}`,
        m.frequency > 0 ? hertz(m.frequency) : '-',
        m.frequency > 0 ? formatNumber(100 * m.damping, 3) : '-',
        m.timeConstant === null ? 'stays' : formatNumber(m.timeConstant, 3),
      ]),
    ),
    '',
    ...modes.map((m) => m.say),
    '',
    `Fastest decay ${formatNumber(fastest.decay, 4)} 1/s, fastest swing ${formatNumber(fastest.swing, 4)} rad/s.`,
    stable ? 'The line settles.' : 'The line does not settle: at least one mode grows.',
    ...loops.flatMap((loop) => ['', ...loopLines(loop)]),
    ...(notes.length === 0 ? [] : ['', ...notes]),
  ]
}

function dancerTable(dancers: Modes['dancers']): string[] {
  const hertz = (value: number) => formatNumber(value, 4)
  const head = ['dancer, Hz', 'by itself', 'with its air', 'on held film, roller held', 'roller free']
  const rows = dancers.map((d) => [d.name, hertz(d.own), hertz(d.ownWithGas), hertz(d.heldRoller), hertz(d.freeRoller)])
  return [...table(head, rows), '']
}

function loopLines(loop: Told): string[] {
  if (!loop.ok) return [loop.say]
  const worst =
    loop.worst === undefined ? [] : [`Worst from core to full and over line speed: ${worstLine(loop.worst)}.`]
  return [loopLine(loop), ...worst]
}

function worstLine({ over, value, loop }: MarginPoint & { ok: true }): string {
  const where =
    over === 'diameter'
      ? `a roll of ${formatQuantity(value, 'mm', 4)}`
      : `a line speed of ${formatQuantity(value, 'm/min', 4)}`
  if (!loop.stable) return `with ${where} the line does not settle`
  const { phaseMargin } = loop.margins
  if (phaseMargin === null) return 'its gain never passes 1'
  return `phase margin ${formatNumber((180 / Math.PI) * phaseMargin.value, 3)} deg with ${where}`
}

function loopLine(loop: LoopGain): string {
  const { name, measures, margins, stable, method } = loop
  const { phaseMargin, gainMargin, delayMargin } = margins
  const phase =
    phaseMargin === null
      ? 'its gain never passes 1'
      : `phase margin ${formatNumber((180 / Math.PI) * phaseMargin.value, 3)} deg at ${formatNumber(phaseMargin.w, 3)} rad/s`
  const gain = gainMargin === null ? 'no limit to its gain' : `gain margin ${formatNumber(gainMargin.value, 3)}`
  const delay = delayMargin === null ? '' : `, ${formatQuantity(delayMargin, 'ms', 3)} of further delay`
  const settles = stable ? '' : ' The line does not settle, so these are no margins.'
  return `The ${name} (measures ${measures}): ${phase}, ${gain}${delay}; ${method}.${settles}`
}

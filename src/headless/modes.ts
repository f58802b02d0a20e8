/** `modes FILE`: how the line swings and dies away about its steady state, and what margin its loops have. */
import { readDocument } from '../scenario/read'
import type { Scenario } from '../scenario/schema'
import { loopGain, modesOf, plantOf, standAt, trimsOf, type LoopGain, type Modes, type Trouble } from '../tune'
import { formatNumber, formatQuantity } from '../units'
import type { ModesCommand } from './arguments'
import { exitCodes } from './exit'
import { documentFrom, textOf } from './input'
import type { Surroundings } from './run'
import { table } from './table'

export function modesCommand(command: ModesCommand, around: Surroundings): number {
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

function loopsOf(scenario: Scenario): (LoopGain | Trouble)[] {
  const standing = standAt(scenario)
  if (!standing.ok) return []
  const plant = plantOf(standing, false)
  return trimsOf(scenario).map((_, k) => loopGain(plant, k))
}

function content(title: string, found: Modes, loops: readonly (LoopGain | Trouble)[]): object {
  const { ok, ...figures } = found
  const told = loops.map((loop) => {
    if (!loop.ok) return { outcome: 'none', say: loop.say }
    const { name, measures, drives, stable, margins, method } = loop
    return { outcome: 'found', name, measures, drives, stable, margins, method }
  })
  return { title, outcome: ok ? 'found' : 'none', ...figures, loops: told }
}

function lines(title: string, found: Modes, loops: readonly (LoopGain | Trouble)[]): string[] {
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

function loopLines(loop: LoopGain | Trouble): string[] {
  if (!loop.ok) return [loop.say]
  const { name, measures, margins, stable, method } = loop
  const { phaseMargin, gainMargin, delayMargin } = margins
  const phase =
    phaseMargin === null
      ? 'its gain never passes 1'
      : `phase margin ${formatNumber((180 / Math.PI) * phaseMargin.value, 3)} deg at ${formatNumber(phaseMargin.w, 3)} rad/s`
  const gain = gainMargin === null ? 'no limit to its gain' : `gain margin ${formatNumber(gainMargin.value, 3)}`
  const delay = delayMargin === null ? '' : `, ${formatQuantity(delayMargin, 'ms', 3)} of further delay`
  const settles = stable ? '' : ' The line does not settle, so these are no margins.'
  return [`The ${name} (measures ${measures}): ${phase}, ${gain}${delay}; ${method}.${settles}`]
}

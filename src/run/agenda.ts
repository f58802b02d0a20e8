/**
 * Everything that is known beforehand to happen at an instant: corners of the speed profiles, which only split the integration,
 * and staged actions, which change the line.
 */
import type { Line } from '../line/line'
import type { Notice } from '../line/part'
import { isRamp, rampDuration, spliceTimes, type RampEvent, type SpliceEvent, type StageEvent } from '../line/stage'

export interface Item {
  /** s */
  readonly at: number
  /** Changes the line; it has been evaluated at (at, y). Returns what to tell, and the part it is told of. */
  readonly act?: (y: number[]) => { part: string; notice: Notice } | undefined
  /** States may jump: the pen lifts. */
  readonly jump: boolean
}

/** Items in time order; at equal times in the order of the stage. */
export function agendaOf(line: Line): Item[] {
  const items: Item[] = [...new Set(line.courses.corners())].map((at) => ({ at, jump: false }))
  for (const event of line.spec.stage) items.push(...itemsOf(line, event))
  return items
    .map((item, n) => ({ item, n }))
    .sort((a, b) => a.item.at - b.item.at || a.n - b.n)
    .map(({ item }) => item)
}

/** What each event is called on the time axis, with its beginning. */
export function eventNames(line: Line): { at: number; name: string }[] {
  return line.spec.stage.map((e) => ({ at: e.at, name: e.do === 'speed' ? 'speed change' : e.do }))
}

function itemsOf(line: Line, event: StageEvent): Item[] {
  switch (event.do) {
    case 'flying splice':
      return [pasteItem(line, event, event.at)]
    case 'zero-speed splice':
      return [
        ...trimItems(line, event.at, spliceTimes(event).end),
        pasteItem(line, event, event.at + spliceTimes(event).paste),
      ]
    case 'rewind change':
      return [{ at: event.at, jump: true, act: (y) => ({ part: last(line), notice: line.changeRewind(event, y) }) }]
    default:
      return [{ at: event.at, jump: false, act: () => told(line, event) }]
  }
}

const last = (line: Line) => line.rollers.names[line.rollers.count - 1]

function told(line: Line, event: StageEvent): { part: string; notice: Notice } {
  const say = (part: string, words: string) => ({ part, notice: { what: 'event' as const, say: words } })
  if (isRamp(event)) return say('line', rampWords(line, event))
  switch (event.do) {
    case 'changeover':
      return say(event.roller, `${event.roller} changes over to ${event.to} feed.`)
    case 'draw':
      return say(event.roller, `The draw of ${event.roller} changes.`)
    case 'dancer force':
    case 'dancer pressure':
    case 'set point':
      return say(event.dancer, `The ${event.do.replace('dancer ', '')} of ${event.dancer} changes.`)
    case 'free strain':
      return say('line', `${event.film} changes its free strain.`)
    case 'winding tension':
      return say(event.roller, `The winding tension of ${event.roller} changes.`)
    default:
      return say('line', `${event.do}.`)
  }
}

function pasteItem(line: Line, event: SpliceEvent, at: number): Item {
  return { at, jump: true, act: (y) => ({ part: line.rollers.names[0], notice: line.paste(event, y) }) }
}

/** The trims of the unwind keep still while a splice has it in hand. */
function trimItems(line: Line, at: number, lasts: number): Item[] {
  const trims = line.corrections.filter((t) => t.law.drives === line.rollers.names[0])
  return trims.flatMap((trim) => [
    {
      at,
      jump: false,
      act: () => {
        trim.hold(line.courses.unwind.speedAt(at))
        return undefined
      },
    },
    {
      at: at + lasts,
      jump: false,
      act: (y: number[]) => {
        trim.release(y)
        return undefined
      },
    },
  ])
}

function rampWords(line: Line, event: RampEvent): string {
  const target = event.do === 'stop' ? 0 : event.to
  const takes = rampDuration({ in: event.in, to: target }, line.courses.line.speedAt(event.at), line.spec.speed)
  const seconds = `${takes.toFixed(1)} s`
  return event.do === 'stop' ? `The line stops within ${seconds}.` : `The line goes to another speed within ${seconds}.`
}

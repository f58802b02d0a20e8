/**
 * Everything that is known beforehand to happen at an instant: corners of the speed profiles, which only split the integration,
 * and staged actions, which change the line.
 */
import type { Line } from '../line/line'
import type { Notice } from '../line/part'
import { rampDuration, spliceTimes, type SpliceEvent, type StageEvent } from '../line/stage'

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
  const corners = [...line.profile.corners(), ...line.unwindProfile.corners()]
  const items: Item[] = [...new Set(corners)].map((at) => ({ at, jump: false }))
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
    default:
      return [
        {
          at: event.at,
          jump: false,
          act: () => ({ part: 'line', notice: { what: 'event', say: rampWords(line, event) } }),
        },
      ]
  }
}

function pasteItem(line: Line, event: SpliceEvent, at: number): Item {
  return { at, jump: true, act: (y) => ({ part: line.rollers.names[0], notice: line.paste(event, y) }) }
}

/** The trims of the unwind keep still while a splice has it in hand. */
function trimItems(line: Line, at: number, lasts: number): Item[] {
  const trims = line.trims.filter((t) => t.spec.drives === line.rollers.names[0])
  return trims.flatMap((trim) => [
    {
      at,
      jump: false,
      act: () => {
        trim.hold(line.unwindProfile.speedAt(at))
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

function rampWords(line: Line, event: Exclude<StageEvent, { do: 'flying splice' | 'zero-speed splice' }>): string {
  const target = event.do === 'stop' ? 0 : event.to
  const takes = rampDuration({ in: event.in, to: target }, line.profile.speedAt(event.at), line.spec.speed)
  const seconds = `${takes.toFixed(1)} s`
  return event.do === 'stop' ? `The line stops within ${seconds}.` : `The line goes to another speed within ${seconds}.`
}

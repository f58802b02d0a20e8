/** How things are looked at: units, theme, which lines, which stretch of time. Nothing here changes a run. */
import type { Range } from '../charts/ranges'
import type { ChannelGroup } from '../../run/record'
import { measures, type Measure, type System } from '../shown'
import type { Path } from './document'

export type Theme = 'system' | 'light' | 'dark'

const read = <T extends string>(key: string, allowed: readonly T[]): T | undefined => {
  try {
    const found = localStorage.getItem(key)
    return allowed.find((word) => word === found)
  } catch {
    return undefined
  }
}

/** A browser may refuse storage; the choice then lasts until the page is closed. */
const keep = (key: string, value: string): void => {
  try {
    localStorage.setItem(key, value)
  } catch {
    return
  }
}

export type Reach = { readonly [group in ChannelGroup]?: boolean }

/** What of this belongs to the work in hand, and is kept with it. */
export interface LookRecord {
  readonly window: Range | null
  readonly cursor: number | null
  readonly span: string | null
  /** Not in records of before. */
  readonly part?: string | null | undefined
  readonly hidden: readonly string[]
  readonly more: readonly string[]
  readonly reach: Reach
}

export class Look {
  system = $state.raw<System>(read('units', ['metric', 'inch']) ?? 'metric')
  measure = $state.raw<Measure>(read('measure', measures) ?? 'force')
  theme = $state.raw<Theme>(read('theme', ['system', 'light', 'dark']) ?? 'system')
  /** The part of the run in the picture; null: all of it. */
  window = $state.raw<Range | null>(null)
  /** s; null: the end of what has been computed. */
  cursor = $state.raw<number | null>(null)
  /** Channels not drawn. */
  hidden = $state.raw<ReadonlySet<string>>(new Set())
  /** Span chosen by the user; null: the worst. */
  span = $state.raw<string | null>(null)
  /** Part chosen by the user, by name; null: the one that the question is about. */
  part = $state.raw<string | null>(null)
  /** Line pointed at just now, by channel key. */
  pointed = $state.raw<string | null>(null)
  /** The number that is asked about: what does it change? */
  asked = $state.raw<Path | null>(null)
  /** Whether a picture reaches up to its limits, where the user said so; else it does as long as the traces stay readable. */
  reach = $state.raw<Reach>({})
  /** Further charts that are unfolded, by the panel's id. */
  more = $state.raw<ReadonlySet<string>>(new Set())

  use(system: System): void {
    this.system = system
    keep('units', system)
  }

  /** How tension is read. */
  gauge(measure: Measure): void {
    this.measure = measure
    keep('measure', measure)
  }

  paint(theme: Theme): void {
    this.theme = theme
    keep('theme', theme)
  }

  /** Shows or hides a line. One that is shown again is the one meant. */
  toggle(key: string, name: string, group: ChannelGroup): void {
    const hidden = new Set(this.hidden)
    if (!hidden.delete(key)) hidden.add(key)
    else if (group === 'tension') this.span = name
    this.hidden = hidden
  }

  /** Unfolds a further chart, or folds it away. */
  unfold(id: string): void {
    const more = new Set(this.more)
    if (!more.delete(id)) more.add(id)
    this.more = more
  }

  /** The span that is meant from now on, seen whatever was hidden. */
  pick(name: string): void {
    this.span = name
    this.hidden = new Set([...this.hidden].filter((key) => key !== `tension/${name}`))
  }

  /** The part whose numbers stand first from now on; chosen again, it is let go. */
  choose(name: string): void {
    this.part = this.part === name ? null : name
  }

  showOnly(keys: readonly string[], kept: readonly string[]): void {
    this.hidden = new Set(keys.filter((key) => !kept.includes(key)))
  }

  get record(): LookRecord {
    const { window, cursor, span, part, reach } = this
    return { window, cursor, span, part, reach, hidden: [...this.hidden], more: [...this.more] }
  }

  restore({ window, cursor, span, part, hidden, more, reach }: LookRecord): void {
    this.window = window
    this.cursor = cursor
    this.span = span
    this.part = part ?? null
    this.reach = reach
    this.hidden = new Set(hidden)
    this.more = new Set(more)
  }

  /** Another line's names mean nothing here. */
  forget(): void {
    this.window = this.cursor = this.span = this.part = this.pointed = this.asked = null
    this.hidden = new Set()
  }
}

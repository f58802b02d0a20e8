/** What is looked at on the Dancer page: which dancer and loop, and at which point of the line. Nothing here changes a run. */
import type { Change } from '../../../tune/advice-box'
import { rollRange } from '../../../tune/diameters'
import type { Point } from '../../../tune/setup'
import { readDocument } from '../../../scenario/read'
import type { Scenario } from '../../../scenario/schema'
import type { Desk } from '../../state/desk.svelte'

export interface LoopName {
  readonly name: string
  readonly measures: string
  readonly drives: string
  /** place in the scenario's list of controls */
  readonly control: number
}

export type DancerSpec = Extract<Scenario['line'][number], { part: 'dancer' }>

export class Study {
  /** m/s; null: as the scenario starts */
  speed = $state.raw<number | null>(null)
  /** m; null: as the scenario starts */
  unwindDiameter = $state.raw<number | null>(null)
  rewindDiameter = $state.raw<number | null>(null)
  /** Chosen by the user; that of another line counts for nothing. */
  dancerName = $state.raw('')
  loopNumber = $state.raw(0)
  /** What advice has set, and why, by path. */
  advised = $state.raw<ReadonlyMap<string, Change & { readonly why: string }>>(new Map())

  /** @param chosen the scenario that it is about */
  constructor(
    readonly desk: Desk,
    readonly chosen: unknown,
  ) {}

  remember(change: Change & { readonly why: string }): void {
    this.advised = new Map([...this.advised, [change.path, change]])
  }

  readonly reading = $derived.by(() => readDocument(this.desk.work.document))
  readonly scenario: Scenario | undefined = $derived(this.reading.ok ? this.reading.scenario : undefined)
  readonly dancers: readonly DancerSpec[] = $derived(
    this.scenario?.line.flatMap((part) => (part.part === 'dancer' ? [part] : [])) ?? [],
  )
  readonly dancer: DancerSpec | undefined = $derived(
    this.dancers.find(({ name }) => name === this.dancerName) ?? this.dancers[0],
  )
  /** In the order of the linear model: position trims first. */
  readonly loops: readonly LoopName[] = $derived(this.scenario ? loopsOf(this.scenario) : [])
  readonly loop: LoopName | undefined = $derived(this.loops[this.loopNumber] ?? this.loops[0])
  readonly loopIndex: number = $derived(this.loop ? this.loops.indexOf(this.loop) : -1)
  readonly point: Point = $derived({
    speed: this.speed ?? undefined,
    unwindDiameter: this.unwindDiameter ?? undefined,
    rewindDiameter: this.rewindDiameter ?? undefined,
  })
}

function loopsOf({ control }: Scenario): LoopName[] {
  const named = control.flatMap(({ control, measures, drives }, place) => {
    // A taper of the dancer's force follows the roll and feeds nothing back.
    if (control === 'force taper') return []
    const name = `${control} of ${drives}, by ${measures}`
    return [{ name, measures, drives, control: place, first: control === 'position trim' }]
  })
  return [...named.filter(({ first }) => first), ...named.filter(({ first }) => !first)]
}

/** m, between which the diameter of a roll is looked at; a roll that is all but used up is looked at up to twice its core. */
export function diametersOf(scenario: Scenario, which: 'unwind' | 'rewind'): { core: number; full: number } {
  const { core, full } = rollRange(scenario, which)
  return { core, full: Math.max(full, 2 * core) }
}

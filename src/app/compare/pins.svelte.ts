/**
 * Runs that are held to be compared with. What is kept of one is its document, not its samples: the same document gives the
 * same run, kept records stay small, and what is compared is always computed by the same version of the equations.
 */
import type { Runner } from '../../../workers/client'
import type { Result } from '../state/run.svelte'
import { Trace } from '../state/trace'
import type { InHand } from '../state/work.svelte'

/** More dashes than these cannot be told apart. */
export const mostPins = 4

/** Numbers in a run's record; a pinned one stays in memory. */
const mostNumbers = 12_000_000

export interface PinnedRun {
  readonly trace: Trace
  readonly result: Result
}

export interface Pin {
  readonly id: string
  /** 0..3: its letter and its dash. */
  readonly mark: number
  readonly name: string
  readonly held: InHand
  /** null until it has been computed again. */
  readonly run: PinnedRun | null
  /** Why there is no run, where there will be none. */
  readonly lost: string
}

export interface PinRecord {
  readonly id: string
  readonly name: string
  readonly held: InHand
}

export const letterOf = (pin: { readonly mark: number }): string => 'ABCD'.charAt(pin.mark)

/** Why this run cannot be pinned; empty where it can. */
export function pinRefusal(pins: readonly Pin[], run: PinnedRun | null): string {
  if (!run?.trace.complete) return 'A run can be pinned when it has finished.'
  if (pins.some((pin) => pin.run?.trace === run.trace)) return 'This run is pinned already.'
  if (pins.length >= mostPins) return `${mostPins} runs are pinned: unpin one first.`
  const numbers = run.trace.count * run.trace.plan.channels.length
  return numbers > mostNumbers ? 'This run is too long to be held beside others: shorten it, or record less often.' : ''
}

export class Pins {
  list = $state.raw<readonly Pin[]>([])

  #computing = false

  /** @param openRunner a runner of its own, so that the run in hand is not disturbed */
  constructor(private readonly openRunner: () => Runner) {}

  add(id: string, name: string, held: InHand, run: PinnedRun): void {
    this.list = [...this.list, { id, mark: this.#freeMark(), name, held, run, lost: '' }]
  }

  rename(id: string, name: string): void {
    this.#set(id, { name })
  }

  remove(id: string): void {
    this.list = this.list.filter((pin) => pin.id !== id)
  }

  /** Pins that were kept: their runs come later, by `compute`. */
  restore(records: readonly PinRecord[]): void {
    this.list = records.slice(0, mostPins).map((record, mark) => ({ ...record, mark, run: null, lost: '' }))
  }

  /** One that was kept elsewhere comes beside those here. @returns whether there was room for it */
  join(record: PinRecord): boolean {
    if (this.list.some(({ id }) => id === record.id)) return true
    if (this.list.length >= mostPins) return false
    this.list = [...this.list, { ...record, mark: this.#freeMark(), run: null, lost: '' }]
    return true
  }

  get records(): PinRecord[] {
    return this.list.map(({ id, name, held }) => ({ id, name, held }))
  }

  /** Computes what is missing, one after the other. */
  async compute(): Promise<void> {
    if (this.#computing || !this.#next()) return
    this.#computing = true
    const runner = this.openRunner()
    for (let pin = this.#next(); pin; pin = this.#next()) this.#set(pin.id, await runOf(pin.held, runner))
    runner.dispose()
    this.#computing = false
  }

  #next(): Pin | undefined {
    return this.list.find(({ run, lost }) => !run && lost === '')
  }

  #freeMark(): number {
    return [0, 1, 2, 3].find((mark) => !this.list.some((pin) => pin.mark === mark)) ?? 0
  }

  #set(id: string, change: Partial<Pin>): void {
    this.list = this.list.map((pin) => (pin.id === id ? { ...pin, ...change } : pin))
  }
}

/** The run of a document, or why there is none. */
async function runOf({ document }: InHand, runner: Runner): Promise<Pick<Pin, 'run' | 'lost'>> {
  const begun: { trace?: Trace } = {}
  const outcome = await runner.run(document, {
    began: (plan) => (begun.trace = new Trace(plan, document)),
    block: (block) => begun.trace?.append(block),
    progress: () => undefined,
  })
  const { trace } = begun
  if (outcome.outcome === 'finished' && trace) {
    trace.complete = true
    return { run: { trace, result: { summary: outcome.summary, plan: trace.plan } }, lost: '' }
  }
  const lost = outcome.outcome === 'failed' ? outcome.say : 'This document cannot be run by this version of the page.'
  return { run: null, lost }
}

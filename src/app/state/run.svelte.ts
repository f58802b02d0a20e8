/** The run on screen: what has arrived of it, the one before it in grey, and how it ended. */
import type { RunListener, Runner } from '../../../workers/client'
import type { Failed, Outcome, Refused } from '../../run/outcome'
import type { Block, RunPlan } from '../../run/record'
import type { Summary } from '../../run/summary'
import { Trace } from './trace'

export type Phase = 'empty' | 'running' | 'finished' | 'refused' | 'failed' | 'stopped'

/** A finished run's figures with the plan that they belong to. */
export interface Result {
  readonly summary: Summary
  readonly plan: RunPlan
}

/** ms between two pictures of a run under way: the machine has the run itself to compute. The first comes at once, and the last. */
const between = 100

export class RunState {
  phase = $state.raw<Phase>('empty')
  /** What is being drawn; null until the run has begun. */
  trace = $state.raw<Trace | null>(null)
  /** The last run that was drawn whole, kept in grey until this one is whole. */
  old = $state.raw<Trace | null>(null)
  /** Of the last finished run; stays while the next one is under way. */
  result = $state.raw<Result | null>(null)
  broken = $state.raw<Refused | Failed | null>(null)
  /** Share of the run's time that is done. */
  share = $state.raw(0)
  /** Counts up as the trace grows: reading it is how charts follow the trace's growth. */
  picture = $state.raw(0)
  /** Counts finished runs, so that equal sentences are spoken twice. */
  ended = $state.raw(0)

  readonly #runner: Runner
  #number = 0
  /** ms */
  #drawnAt = 0
  /** Announced, without a sample yet: the charts are not bothered with it. */
  #coming: Trace | null = null

  constructor(runner: Runner) {
    this.#runner = runner
  }

  /** The trace that fills the charts' axes. */
  get shown(): Trace | null {
    return this.trace ?? this.old
  }

  /** The trace that the result is of: of a run before, until the next has finished. */
  get told(): Trace | undefined {
    return [this.trace, this.old].find((one) => one?.plan === this.result?.plan) ?? undefined
  }

  async start(document: unknown): Promise<void> {
    const number = ++this.#number
    if (this.trace?.complete) this.old = this.trace
    this.trace = this.#coming = null
    this.broken = null
    this.share = 0
    this.phase = 'running'
    const outcome = await this.#runner.run(document, this.#listener(number, document))
    if (number === this.#number) this.#finish(outcome)
  }

  stop(): void {
    this.#runner.cancel()
  }

  /** A scenario of another line: nothing of the former one stays. */
  clear(): void {
    this.stop()
    this.#number++
    this.phase = 'empty'
    this.#coming = null
    this.trace = this.old = this.result = this.broken = null
    this.share = 0
    this.picture++
  }

  #listener(number: number, document: unknown): RunListener {
    const current = (act: () => void) => {
      if (number === this.#number) act()
    }
    return {
      began: (plan) => current(() => this.#began(plan, document)),
      block: (block) => current(() => this.#block(block)),
      // Blocks come as often, and tell it too.
      progress: () => undefined,
    }
  }

  #began(plan: RunPlan, document: unknown): void {
    this.#coming = new Trace(plan, document)
  }

  #block(block: Block): void {
    const trace = this.#coming ?? this.trace
    if (!trace) return
    trace.append(block)
    const isFirst = this.trace !== trace
    this.#come()
    const now = performance.now()
    if (!isFirst && now - this.#drawnAt < between) return
    this.#drawnAt = now
    this.share = Math.min(1, trace.reached / trace.plan.duration)
    this.picture++
  }

  /** What was announced becomes what is shown. */
  #come(): void {
    if (this.#coming) this.trace = this.#coming
    this.#coming = null
  }

  #finish(outcome: Outcome): void {
    this.#come()
    if (outcome.outcome === 'finished') this.#finished(outcome.summary)
    else if (outcome.outcome === 'cancelled') this.phase = 'stopped'
    else {
      this.broken = outcome
      this.phase = outcome.outcome
    }
    this.ended++
    this.picture++
  }

  #finished(summary: Summary): void {
    const trace = this.trace
    if (!trace) return
    trace.complete = true
    this.old = null
    this.share = 1
    this.result = { summary, plan: trace.plan }
    this.phase = 'finished'
  }
}

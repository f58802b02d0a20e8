/** The roll in hand: asked of the pool whenever the scenario (or the run that lies in it) changes; pinned to compare with. */
import { ringChannels, wantsRun, type RollQuestion, type RollReport } from '../../../roll/job'
import type { Advice } from '../../../roll'
import type { Problem } from '../../../units'
import { Asked } from '../../state/asked.svelte'
import type { Desk } from '../../state/desk.svelte'
import type { Json } from '../../state/document'

export interface Pinned {
  readonly report: RollReport
  readonly title: string
}

export class Roll {
  readonly #asked = new Asked('roll')
  readonly #search = new Asked('roll advice')
  /** The scenario that advice was last sought for: with another one it is out of date. */
  #soughtFor: Json = $state.raw(null)
  pinned = $state.raw<Pinned | null>(null)
  /** Asked for at least once: the first answer is waited for in words. */
  asked = $state.raw(false)

  constructor(private readonly desk: Desk) {}

  get report(): RollReport | null {
    const answer = this.#asked.value
    return answer === undefined || 'outcome' in answer ? null : answer
  }

  get problems(): readonly Problem[] {
    const answer = this.#asked.value
    return answer !== undefined && 'outcome' in answer ? answer.problems : []
  }

  get trouble(): string {
    return this.#asked.trouble
  }

  get computing(): boolean {
    return this.#asked.computing
  }

  /** Waits for the run that is to be put in. */
  get waits(): boolean {
    return wantsRun(this.desk.work.document) && this.desk.run.phase === 'running'
  }

  get advice(): Advice | null {
    return this.#soughtFor === this.desk.work.document ? (this.#search.value ?? null) : null
  }

  get searching(): boolean {
    return this.#search.computing
  }

  get searched(): number {
    return this.#search.share
  }

  /** What the roll depends on: the scenario, and the finished run where it is wanted. */
  question(): RollQuestion | null {
    const { work, run } = this.desk
    const { document } = work
    if (document === null) return null
    if (!wantsRun(document)) return { document }
    const { trace, phase } = run
    if (phase === 'running' || phase === 'empty') return null
    const places = trace?.complete && trace.document === document ? ringChannels(trace.plan.channels) : undefined
    if (!trace || places === undefined) return { document }
    return {
      document,
      run: { radius: trace.values(places.radius).slice(), tension: trace.values(places.tension).slice() },
    }
  }

  ask(question: RollQuestion | null): void {
    if (question === null) return
    this.asked = true
    void this.#asked.ask(this.desk.pool, undefined, [question])
  }

  seek(): void {
    const question = this.question()
    if (question === null) return
    this.#soughtFor = this.desk.work.document
    void this.#search.ask(this.desk.pool, undefined, [question])
  }

  stopSeeking(): void {
    this.#search.stop()
  }

  pin(): void {
    const { report } = this
    if (report) this.pinned = { report, title: report.result.input.title }
  }

  unpin(): void {
    this.pinned = null
  }

  dispose(): void {
    this.#asked.stop()
    this.#search.stop()
  }
}

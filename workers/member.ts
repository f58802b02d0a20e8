/** One place in the pool: at most one living worker and one call at a time. */
import type { JobAnswer } from './job-service'
import type { JobResult, Task } from './task'

/** What a worker tells while it computes. */
export interface JobEars {
  progress(call: number, share: number): void
}

/** One living worker. Its promises may never settle once it is lost. */
export interface JobLink {
  /** Settles when the worker's program is there and listens. */
  readonly ready: Promise<void>
  begin(job: number, name: string, common: unknown): void
  compute(call: number, job: number, input: unknown): Promise<JobAnswer>
  /** Wanted no more: forget it and stop what is under way of it. */
  end(job: number): void
  close(): void
}

export type OpenJobLink = (ears: JobEars, lost: (why: string) => void) => JobLink

interface Events {
  answered(task: Task, index: number, result: JobResult<unknown>): void
  /** The worker is gone, and with it the input it had, if any. */
  lost(task: Task | undefined, index: number, why: string): void
  free(): void
  progress(task: Task): void
}

interface Call {
  readonly number: number
  readonly task: Task
  readonly index: number
  share: number
  ended: boolean
}

/** ms a worker may take to stop before it is given up */
const patience = 2_000
/** ms without a word from a computing worker: a single step that never ends */
const longSilence = 120_000

let lastCall = 0

export class Member {
  #link: JobLink | undefined
  #call: Call | undefined
  /** Numbers of the jobs that the living worker knows. */
  readonly #known = new Set<number>()
  #timer: ReturnType<typeof setTimeout> | undefined

  constructor(
    private readonly openLink: OpenJobLink,
    private readonly events: Events,
  ) {}

  get free(): boolean {
    return this.#call === undefined
  }

  shareOf(task: Task): number {
    return this.#call?.task === task && !this.#call.ended ? this.#call.share : 0
  }

  compute(task: Task, index: number): void {
    const call = { number: ++lastCall, task, index, share: 0, ended: false }
    this.#call = call
    const link = this.#open()
    if (!link) return
    if (!this.#known.has(task.number)) link.begin(task.number, task.name, task.common)
    this.#known.add(task.number)
    this.#watch(longSilence, `no word for ${longSilence / 1000} s`)
    link.compute(call.number, task.number, task.inputs[index]).then(
      (answer) => this.#answer(call, answer),
      (error: unknown) => this.#lose(link, messageOf(error)),
    )
  }

  /** A job has ended. A worker that still computes for it has to stop in time. */
  end(task: Task): void {
    if (!this.#known.delete(task.number)) return
    const link = this.#link
    link?.end(task.number)
    const call = this.#call
    if (!link || call?.task !== task) return
    call.ended = true
    clearTimeout(this.#timer)
    const wait = () => {
      if (this.#call === call) this.#watch(patience, 'it did not stop')
    }
    // A worker whose program is still being loaded is slow, not stuck.
    link.ready.then(wait, wait)
  }

  drop(): void {
    clearTimeout(this.#timer)
    this.#link?.close()
    this.#link = undefined
    this.#call = undefined
    this.#known.clear()
  }

  #open(): JobLink | undefined {
    if (this.#link) return this.#link
    try {
      const link: JobLink = this.openLink({ progress: (number, share) => this.#progress(number, share) }, (why) =>
        this.#lose(link, why),
      )
      this.#link = link
    } catch (error) {
      // Later, so that whoever gave the input has done with it.
      void Promise.resolve().then(() => this.#lose(undefined, messageOf(error)))
    }
    return this.#link
  }

  #progress(number: number, share: number): void {
    const call = this.#call
    if (call?.number !== number || call.ended) return
    call.share = share
    this.#watch(longSilence, `no word for ${longSilence / 1000} s`)
    this.events.progress(call.task)
  }

  #answer(call: Call, answer: JobAnswer): void {
    if (call !== this.#call) return
    clearTimeout(this.#timer)
    this.#call = undefined
    if (answer !== 'stopped' && !call.ended) this.events.answered(call.task, call.index, answer)
    this.events.free()
  }

  #watch(after: number, why: string): void {
    clearTimeout(this.#timer)
    const link = this.#link
    this.#timer = setTimeout(() => this.#lose(link, why), after)
  }

  #lose(link: JobLink | undefined, why: string): void {
    if (link !== this.#link) return
    const call = this.#call
    this.drop()
    // One that was told to stop and was taken away did no harm.
    if (call?.ended !== true) this.events.lost(call?.task, call?.index ?? 0, why)
    this.events.free()
  }
}

function messageOf(error: unknown): string {
  return error instanceof Error ? error.message : String(error)
}

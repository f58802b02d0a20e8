/**
 * The page's side of the pool: several workers share the inputs of the jobs under way, in turn. Every job settles,
 * whatever becomes of a worker. Knows neither comlink nor Worker nor a clock; all are handed in.
 */
import type { CommonOf, InputOf, OutputOf, Registry } from './job'
import { Member, type OpenJobLink } from './member'
import type { JobOptions, JobOutcome, JobResult, Task, Ticket } from './task'

/** Workers lost one after another, without an answer between them, after which nothing more is tried. */
const mostLosses = 6

/** Share of a job below which a guess at the time left would be none. */
const leastShare = 0.02

export class Pool<R extends Registry> {
  readonly #members: readonly Member[]
  /** The next to be given a worker comes first. */
  #tasks: Task[] = []
  #lastNumber = 0
  #losses = 0
  #disposed = false

  /** @param now s */
  constructor(
    openLink: OpenJobLink,
    size: number,
    private readonly now: () => number,
  ) {
    const events = {
      answered: (task: Task, index: number, result: JobResult<unknown>) => this.#answered(task, index, result),
      lost: (task: Task | undefined, index: number, why: string) => this.#lost(task, index, why),
      free: () => this.#pump(),
      progress: (task: Task) => this.#tell(task),
    }
    this.#members = Array.from({ length: size }, () => new Member(openLink, events))
  }

  /** `common` and `inputs` are plain data. */
  start<N extends keyof R & string>(
    name: N,
    common: CommonOf<R[N]>,
    inputs: readonly InputOf<R[N]>[],
    options: JobOptions<OutputOf<R[N]>> = {},
  ): Ticket<OutputOf<R[N]>> {
    type Output = OutputOf<R[N]>
    const older = this.#tasks.find((task) => options.key !== undefined && task.options.key === options.key)
    if (older) this.#settle(older, { outcome: 'cancelled' })
    let cancel = () => {}
    const outcome = new Promise<JobOutcome<Output>>((settle) => {
      const task = this.#taskOf(name, common, inputs, options, (end) => {
        settle(end as JobOutcome<Output>)
      })
      cancel = () => this.#settle(task, { outcome: 'cancelled' })
      this.#begin(task)
    })
    return { outcome, cancel }
  }

  dispose(): void {
    this.#disposed = true
    for (const task of [...this.#tasks]) this.#settle(task, { outcome: 'cancelled' })
    for (const member of this.#members) member.drop()
  }

  #taskOf(
    name: string,
    common: unknown,
    inputs: readonly unknown[],
    options: JobOptions<unknown>,
    settle: Task['settle'],
  ): Task {
    const waiting = inputs.map((_, index) => index)
    const results = inputs.map(() => undefined)
    const number = ++this.#lastNumber
    return {
      number,
      name,
      common,
      inputs,
      options,
      settle,
      results,
      waiting,
      retried: new Set(),
      began: undefined,
      done: 0,
    }
  }

  #begin(task: Task): void {
    if (this.#disposed) {
      task.settle({ outcome: 'cancelled' })
      return
    }
    this.#tasks.push(task)
    this.#endIfDone(task)
    this.#pump()
  }

  /** Gives each free worker an input, one job after another, so that a long job does not keep a short one waiting. */
  #pump(): void {
    for (const member of this.#members) {
      if (this.#disposed || !member.free) continue
      const task = this.#tasks.find(({ waiting }) => waiting.length > 0)
      if (!task) return
      this.#tasks = [...this.#tasks.filter((other) => other !== task), task]
      const index = task.waiting.shift() ?? 0
      task.began ??= this.now()
      member.compute(task, index)
    }
  }

  #answered(task: Task, index: number, result: JobResult<unknown>): void {
    this.#losses = 0
    this.#take(task, index, result)
  }

  #take(task: Task, index: number, result: JobResult<unknown>): void {
    if (!this.#tasks.includes(task) || task.results[index] !== undefined) return
    task.results[index] = result
    task.done++
    task.options.result?.(index, result)
    this.#tell(task)
    this.#endIfDone(task)
  }

  #endIfDone(task: Task): void {
    const results = task.results.flatMap((result) => result ?? [])
    if (results.length === task.inputs.length) this.#settle(task, { outcome: 'finished', results })
  }

  /** A worker broke down: its input gets one more try, then its loss is the result. */
  #lost(task: Task | undefined, index: number, why: string): void {
    this.#losses++
    if (this.#losses >= mostLosses) {
      this.#giveUp(why)
      return
    }
    if (!task || !this.#tasks.includes(task)) return
    if (task.retried.has(index)) {
      this.#take(task, index, { ok: false, say: brokeOff(why) })
      return
    }
    task.retried.add(index)
    task.waiting.unshift(index)
  }

  #giveUp(why: string): void {
    this.#losses = 0
    for (const task of [...this.#tasks]) this.#settle(task, { outcome: 'failed', say: brokeOff(why) })
  }

  #settle(task: Task, outcome: JobOutcome<unknown>): void {
    if (!this.#tasks.includes(task)) return
    this.#tasks = this.#tasks.filter((other) => other !== task)
    for (const member of this.#members) member.end(task)
    task.settle(outcome)
  }

  #tell(task: Task): void {
    const { options, began, inputs, done } = task
    if (!options.progress || !this.#tasks.includes(task)) return
    const underway = this.#members.reduce((sum, member) => sum + member.shareOf(task), 0)
    const share = Math.min(1, (done + underway) / inputs.length)
    const spent = began === undefined ? 0 : this.now() - began
    options.progress(share, share < leastShare ? undefined : (spent * (1 - share)) / share)
  }
}

function brokeOff(why: string): string {
  return `The computation broke off (${why}). Start it again; if it breaks off again, take back the last change.`
}

/** The worker's side of the pool: computes one input at a time, in short slices between which a cancel is heard. */
import type { Registry, Work } from './job'
import type { Clock } from './slices'

export type JobAnswer =
  { readonly ok: true; readonly value: unknown } | { readonly ok: false; readonly say: string } | 'stopped'

interface Begun {
  readonly name: string
  readonly common: unknown
  compute: ((input: unknown) => unknown) | undefined
}

/** ms of work between two pauses, between two words of progress, and after which an input is given up */
export interface JobPace {
  readonly slice: number
  readonly between: number
  readonly budget: number
}

const usualPace: JobPace = { slice: 10, between: 100, budget: 120_000 }

export class JobService {
  readonly #jobs = new Map<number, Begun>()

  constructor(
    private readonly registry: Registry,
    private readonly progress: (call: number, share: number) => void,
    private readonly clock: Clock,
    private readonly pace: JobPace = usualPace,
  ) {}

  begin(job: number, name: string, common: unknown): void {
    this.#jobs.set(job, { name, common, compute: undefined })
  }

  end(job: number): void {
    this.#jobs.delete(job)
  }

  async compute(call: number, job: number, input: unknown): Promise<JobAnswer> {
    // Hear everything that waits before the work begins: the job may be wanted no more.
    await this.clock.pause()
    const begun = this.#jobs.get(job)
    if (!begun) return 'stopped'
    try {
      begun.compute ??= this.#prepare(begun)
      const answer = begun.compute(input)
      return isWork(answer) ? await this.#inSlices(call, job, answer) : { ok: true, value: answer }
    } catch (error) {
      return { ok: false, say: error instanceof Error ? error.message : String(error) }
    }
  }

  #prepare({ name, common }: Begun): (input: unknown) => unknown {
    const job = this.registry[name] as ((common: unknown) => (input: unknown) => unknown) | undefined
    if (!job) throw new Error(`There is no computation called "${name}".`)
    return job(common)
  }

  async #inSlices(call: number, job: number, work: Work<unknown>): Promise<JobAnswer> {
    let [worked, toldAt] = [0, this.clock.now()]
    for (;;) {
      const began = this.clock.now()
      let step = work.next()
      while (step.done !== true && this.clock.now() - began < this.pace.slice) step = work.next()
      if (step.done === true) return { ok: true, value: step.value }
      worked += this.clock.now() - began
      if (worked >= this.pace.budget) return { ok: false, say: outOfTime(step.value, this.pace.budget) }
      if (this.clock.now() - toldAt >= this.pace.between) {
        this.progress(call, step.value)
        toldAt = this.clock.now()
      }
      await this.clock.pause()
      if (!this.#jobs.has(job)) return 'stopped'
    }
  }
}

/** What travels between page and worker has no functions; so this cannot be a result. */
function isWork(answer: unknown): answer is Work<unknown> {
  return typeof answer === 'object' && answer !== null && 'next' in answer && typeof answer.next === 'function'
}

function outOfTime(share: number, budget: number): string {
  return (
    `It was given ${Math.round(budget / 1000)} s of computing time and came to ${Math.round(share * 100)} % of its end. ` +
    'Shorten the run (run/for), or allow a larger tolerance (run/tolerance).'
  )
}

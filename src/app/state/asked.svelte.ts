/** One question to the pool and what has come of it so far. Asked anew, only the newest question counts. */
import type { JobCommon, JobInput, JobName, JobOutput, JobPool, JobResult } from '../../../workers/client'

/** What is used of the pool. */
export type Starter = Pick<JobPool, 'start'>

/** ms between two looks at what streams in: the page has more to do than to redraw. */
const between = 120

export class Asked<N extends JobName> {
  /** In the order of the inputs; those of the question before stay until the first of this one is there. */
  results = $state.raw<readonly (JobResult<JobOutput<N>> | undefined)[]>([])
  computing = $state.raw(false)
  share = $state.raw(0)
  /** s; undefined while it cannot be told */
  left = $state.raw<number | undefined>(undefined)
  /** Why there is no answer at all. */
  broken = $state.raw('')
  #cancel: () => void = () => undefined
  #number = 0

  /** @param name of the job; several that ask for the same job do not supersede one another */
  constructor(private readonly name: N) {}

  /** Resolves when this question has ended, whatever became of it. */
  async ask(pool: Starter, common: JobCommon<N>, inputs: readonly JobInput<N>[]): Promise<void> {
    this.stop()
    const number = ++this.#number
    const current = () => number === this.#number
    this.computing = true
    this.share = 0
    this.left = undefined
    this.broken = ''
    const arrived: (JobResult<JobOutput<N>> | undefined)[] = inputs.map(() => undefined)
    const show = throttled(() => current() && (this.results = [...arrived]))
    const ticket = pool.start(this.name, common, inputs, {
      result: (index, result) => {
        arrived[index] = result
        show.soon()
      },
      progress: (share, left) => {
        if (!current()) return
        this.share = share
        this.left = left
      },
    })
    this.#cancel = () => ticket.cancel()
    const end = await ticket.outcome
    show.stop()
    if (!current()) return
    this.computing = false
    if (end.outcome === 'finished') this.results = end.results
    if (end.outcome === 'failed') this.broken = end.say
  }

  stop(): void {
    this.#number++
    this.#cancel()
    this.computing = false
  }

  /** The first answer that is a value. */
  get value(): JobOutput<N> | undefined {
    return this.results.flatMap((result) => (result?.ok ? [result.value] : []))[0]
  }

  /** What was said of an input that could not be computed, or of the whole question. */
  get trouble(): string {
    const bad = this.results.find((result) => result?.ok === false)
    return this.broken || (bad?.ok === false ? bad.say : '')
  }
}

function throttled(act: () => void): { soon: () => void; stop: () => void } {
  let timer: ReturnType<typeof setTimeout> | undefined
  return {
    soon: () => {
      timer ??= setTimeout(() => {
        timer = undefined
        act()
      }, between)
    },
    stop: () => clearTimeout(timer),
  }
}

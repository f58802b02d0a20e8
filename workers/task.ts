/** One job in the pool: what it was asked, who listens, and how far it has come. */

/** What became of one input; a computation that breaks off is a value too. */
export type JobResult<Output> =
  { readonly ok: true; readonly value: Output } | { readonly ok: false; readonly say: string }

export type JobOutcome<Output> =
  | { readonly outcome: 'finished'; readonly results: readonly JobResult<Output>[] }
  | { readonly outcome: 'cancelled' }
  | { readonly outcome: 'failed'; readonly say: string }

export interface JobListener<Output> {
  /** As soon as it is there, in any order. */
  result?(index: number, result: JobResult<Output>): void
  /** @param left s, as far as can be told by now */
  progress?(share: number, left: number | undefined): void
}

export interface JobOptions<Output> extends JobListener<Output> {
  /** A newer job of the same key takes the place of the older one, which settles as cancelled. */
  readonly key?: string
}

export interface Ticket<Output> {
  readonly outcome: Promise<JobOutcome<Output>>
  cancel(): void
}

/** One job under way. */
export interface Task {
  readonly number: number
  readonly name: string
  readonly common: unknown
  readonly inputs: readonly unknown[]
  readonly options: JobOptions<unknown>
  readonly settle: (outcome: JobOutcome<unknown>) => void
  readonly results: (JobResult<unknown> | undefined)[]
  /** places of the inputs that nobody computes yet */
  readonly waiting: number[]
  /** places of the inputs whose worker was lost once */
  readonly retried: Set<number>
  /** s; of the first call */
  began: number | undefined
  done: number
}

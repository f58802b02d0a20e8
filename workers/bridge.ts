/**
 * The one file that knows comlink. Page: `openLink`, `openJobLink`. Worker: `serveRuns`, `serveJobs`.
 * comlink's calls never settle after a crash or `terminate()`; so the page's side tells of a lost worker through `lost`
 * and whoever holds the link settles its promises itself.
 */
import { expose, proxy, transfer, wrap, type Endpoint, type ProxyMarked, type Remote } from 'comlink'
import type { Outcome } from '../src/run/outcome'
import type { Block, RunPlan } from '../src/run/record'
import type { Registry } from './job'
import { JobService, type JobAnswer } from './job-service'
import type { JobEars, JobLink } from './member'
import type { Ears, Link } from './runner'
import { RunService, type Prepare, type Telling } from './service'
import type { Clock } from './slices'

/** What crosses from the page to the worker. */
interface Calls {
  listen(ears: Ears & ProxyMarked): void
  run(number: number, document: unknown): Promise<Outcome>
  cancel(): void
}

/** The part of a Worker that is used: the tests bring a port instead. */
export interface WorkerLike extends Endpoint {
  terminate(): void
}

export function openLink(worker: WorkerLike, ears: Ears, lost: (why: string) => void): Link {
  return new WorkerLink(worker, ears, lost)
}

class WorkerLink implements Link {
  readonly ready: Promise<void>
  readonly #calls: Remote<Calls>
  /** Held here, since the worker's half lives only as long as this one. */
  readonly #ears: Ears & ProxyMarked

  constructor(
    private readonly worker: WorkerLike,
    ears: Ears,
    lost: (why: string) => void,
  ) {
    hearOfLoss(worker, lost)
    this.#calls = wrap<Calls>(worker)
    this.#ears = proxy(ears)
    this.ready = this.#calls.listen(this.#ears)
  }

  run(number: number, document: unknown): Promise<Outcome> {
    return this.#calls.run(number, document)
  }

  cancel(): void {
    void this.#calls.cancel()
  }

  close(): void {
    this.worker.terminate()
  }
}

/** What crosses from the page to a worker of the pool. */
interface JobCalls {
  listen(ears: JobEars & ProxyMarked): void
  begin(job: number, name: string, common: unknown): void
  compute(call: number, job: number, input: unknown): Promise<JobAnswer>
  end(job: number): void
}

export function openJobLink(worker: WorkerLike, ears: JobEars, lost: (why: string) => void): JobLink {
  return new JobWorkerLink(worker, ears, lost)
}

class JobWorkerLink implements JobLink {
  readonly ready: Promise<void>
  readonly #calls: Remote<JobCalls>
  readonly #ears: JobEars & ProxyMarked

  constructor(
    private readonly worker: WorkerLike,
    ears: JobEars,
    private readonly lost: (why: string) => void,
  ) {
    hearOfLoss(worker, lost)
    this.#calls = wrap<JobCalls>(worker)
    this.#ears = proxy(ears)
    this.ready = this.#calls.listen(this.#ears)
  }

  begin(job: number, name: string, common: unknown): void {
    this.#calls.begin(job, name, common).catch((error: unknown) => this.lost(String(error)))
  }

  compute(call: number, job: number, input: unknown): Promise<JobAnswer> {
    return this.#calls.compute(call, job, input)
  }

  end(job: number): void {
    void this.#calls.end(job)
  }

  close(): void {
    this.worker.terminate()
  }
}

function hearOfLoss(worker: WorkerLike, lost: (why: string) => void): void {
  worker.addEventListener('error', (event) => lost(messageOf(event)))
  worker.addEventListener('messageerror', () => lost('a message could not be read'))
}

function messageOf(event: unknown): string {
  const message = event instanceof Object && 'message' in event ? event.message : undefined
  return typeof message === 'string' && message !== '' ? message : 'its program could not be loaded'
}

export function serveRuns(prepare: Prepare, clock: Clock, endpoint: Endpoint): void {
  let service: RunService | undefined
  expose(
    {
      listen: (ears: Remote<Ears>) => {
        service = new RunService(prepare, tellingThrough(ears), clock)
      },
      run: (number: number, document: unknown) => service?.run(number, document),
      cancel: () => service?.cancel(),
    },
    endpoint,
  )
}

export function serveJobs(registry: Registry, clock: Clock, endpoint: Endpoint): void {
  let service: JobService | undefined
  expose(
    {
      listen: (ears: Remote<JobEars>) => {
        service = new JobService(registry, (call, share) => void ears.progress(call, share), clock)
      },
      begin: (job: number, name: string, common: unknown) => service?.begin(job, name, common),
      compute: (call: number, job: number, input: unknown) => service?.compute(call, job, input),
      end: (job: number) => service?.end(job),
    },
    endpoint,
  )
}

function tellingThrough(ears: Remote<Ears>): Telling {
  return {
    began: (number: number, plan: RunPlan) => ears.began(number, plan),
    block: (number: number, block: Block) => {
      const sent = whole(block)
      return ears.block(number, transfer(sent, [sent.data.buffer]))
    },
    progress: (number: number, share: number, time: number) => ears.progress(number, share, time),
  }
}

/** A view into a larger buffer would take the whole buffer away from its owner: copy it out. */
function whole(block: Block): Block & { readonly data: Float64Array<ArrayBuffer> } {
  const { data } = block
  const owns = data.buffer instanceof ArrayBuffer && data.byteLength === data.buffer.byteLength
  return { ...block, data: owns ? new Float64Array(data.buffer) : data.slice() }
}

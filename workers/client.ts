/** The one bridge between page and worker. */
import { openJobLink, openLink } from './bridge'
import type { Jobs } from './jobs'
import type { CommonOf, InputOf, OutputOf } from './job'
import { Pool } from './pool'
import { LinkRunner, type Runner } from './runner'

export type { JobOutcome, JobResult, Ticket } from './task'
export type { RunListener, Runner } from './runner'
export type JobName = keyof Jobs
export type JobCommon<N extends JobName> = CommonOf<Jobs[N]>
export type JobInput<N extends JobName> = InputOf<Jobs[N]>
export type JobOutput<N extends JobName> = OutputOf<Jobs[N]>
export type JobPool = Pool<Jobs>

export function createRunner(): Runner {
  return new LinkRunner((ears, lost) =>
    openLink(new Worker(new URL('./run.worker.ts', import.meta.url), { type: 'module' }), ears, lost),
  )
}

/** One place is left to the live run, which has a worker of its own; more than eight would only take memory. */
export function createPool(): JobPool {
  const size = Math.max(1, Math.min(8, navigator.hardwareConcurrency - 1))
  return new Pool(
    (ears, lost) =>
      openJobLink(new Worker(new URL('./job.worker.ts', import.meta.url), { type: 'module' }), ears, lost),
    size,
    () => performance.now() / 1000,
  )
}

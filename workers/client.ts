/** The one bridge between page and worker. */
import { openLink } from './bridge'
import { LinkRunner, type Runner } from './runner'

export type { RunListener, Runner } from './runner'

export function createRunner(): Runner {
  return new LinkRunner((ears, lost) =>
    openLink(new Worker(new URL('./run.worker.ts', import.meta.url), { type: 'module' }), ears, lost),
  )
}

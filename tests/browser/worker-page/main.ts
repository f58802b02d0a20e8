/** A page that offers the runner to the test and nothing else. */
import { createRunner } from '../../../workers/client'
import type { Block, RunPlan } from '../../../src/run/record'

/** Everything one run told, in order. */
export class Diary {
  plan: RunPlan | undefined
  readonly blocks: Block[] = []
  readonly shares: number[] = []
  /** called at every block */
  onBlock: () => void = () => undefined

  began = (plan: RunPlan) => void (this.plan = plan)
  progress = (share: number) => void this.shares.push(share)
  block = (block: Block) => {
    this.blocks.push(block)
    this.onBlock()
  }

  get samples(): number {
    return this.blocks.reduce((sum, { count }) => sum + count, 0)
  }

  /** Every sample once, each block in a buffer of its own. */
  get isWhole(): boolean {
    let next = 0
    return this.blocks.every(({ from, count, data }) => {
      const fits = from === next && data.buffer.byteLength === data.byteLength
      next += count
      return fits
    })
  }
}

declare global {
  interface Window {
    createRunner: typeof createRunner
    Diary: typeof Diary
    workersStarted: number
    /** one that outlives a step of a test */
    runner: ReturnType<typeof createRunner>
  }
}

window.createRunner = createRunner
window.Diary = Diary
window.runner = createRunner()
window.workersStarted = 0

const PlainWorker = window.Worker
window.Worker = class extends PlainWorker {
  constructor(url: string | URL, options?: WorkerOptions) {
    super(url, options)
    window.workersStarted += 1
  }
}

/**
 * The page's side of a run: one run at a time, every promise settles, whatever becomes of the worker.
 * Knows neither comlink nor Worker; `openLink` is handed in.
 */
import type { Failed, Outcome } from '../src/run/outcome'
import type { Block, RunPlan } from '../src/run/record'

export interface RunListener {
  began(plan: RunPlan): void
  block(block: Block): void
  progress(share: number, time: number): void
}

export interface Runner {
  /** A newer run supersedes the older one, whose promise settles as cancelled. `document` is parsed JSON, no proxies. */
  run(document: unknown, listener: RunListener): Promise<Outcome>
  cancel(): void
  /** Cancels and ends the worker; a later run settles as cancelled at once. */
  dispose(): void
}

/** What a worker tells, each with the number of the run it is about. */
export interface Ears {
  began(number: number, plan: RunPlan): void
  block(number: number, block: Block): void
  progress(number: number, share: number, time: number): void
}

/** One living worker. Its promises may never settle once it is lost. */
export interface Link {
  /** Settles when the worker's program is there and listens. */
  readonly ready: Promise<void>
  run(number: number, document: unknown): Promise<Outcome>
  cancel(): void
  close(): void
}

export type OpenLink = (ears: Ears, lost: (why: string) => void) => Link

interface Call {
  readonly document: unknown
  readonly listener: RunListener
  readonly settle: (outcome: Outcome) => void
  number: number
  answered: boolean
  /** s of line time last heard of */
  time: number
}

/** ms a worker may take to answer a cancel before it is given up */
const patience = 2_000
/** ms without a word from a running worker: a single step that never ends */
const longSilence = 120_000

const cancelled: Outcome = { outcome: 'cancelled' }

export class LinkRunner implements Runner {
  #link: Link | undefined
  #current: Call | undefined
  #lastNumber = 0
  #silence: ReturnType<typeof setTimeout> | undefined
  #disposed = false

  constructor(private readonly openLink: OpenLink) {}

  run(document: unknown, listener: RunListener): Promise<Outcome> {
    if (this.#disposed) return Promise.resolve(cancelled)
    this.#abandon()
    return new Promise((settle) => {
      this.#start({ document, listener, settle, number: 0, answered: false, time: 0 })
    })
  }

  cancel(): void {
    if (this.#current) this.#link?.cancel()
    this.#abandon()
  }

  dispose(): void {
    this.#disposed = true
    this.#abandon()
    this.#drop()
  }

  #start(call: Call): void {
    this.#current = call
    const link = this.#open()
    if (!link) return
    // A fresh number each time: what an earlier worker or call still says can never be taken for this one.
    call.number = ++this.#lastNumber
    this.#heard()
    link.run(call.number, call.document).then(
      (outcome) => this.#answer(call, outcome),
      (error: unknown) => this.#lose(link, messageOf(error)),
    )
  }

  #open(): Link | undefined {
    if (this.#link) return this.#link
    try {
      const link = this.openLink(this.#ears(), (why) => this.#lose(link, why))
      this.#link = link
    } catch (error) {
      this.#fail(messageOf(error))
    }
    return this.#link
  }

  #ears(): Ears {
    return {
      began: (number, plan) => this.#callOf(number)?.listener.began(plan),
      block: (number, block) => this.#callOf(number)?.listener.block(block),
      progress: (number, share, time) => {
        const call = this.#callOf(number)
        if (!call) return
        call.time = time
        call.listener.progress(share, time)
      },
    }
  }

  #callOf(number: number): Call | undefined {
    this.#heard()
    return this.#current?.number === number ? this.#current : undefined
  }

  #answer(call: Call, outcome: Outcome): void {
    call.answered = true
    if (call === this.#current) this.#settle(call, outcome)
  }

  #settle(call: Call, outcome: Outcome): void {
    this.#current = undefined
    clearTimeout(this.#silence)
    call.settle(outcome)
  }

  /** The run going on is wanted no more. The page need not wait for the worker, but the worker has to answer in time. */
  #abandon(): void {
    const [call, link] = [this.#current, this.#link]
    if (!call || !link) return
    this.#settle(call, cancelled)
    const wait = () => void setTimeout(() => this.#replaceIfStuck(link, call), patience)
    // A worker whose program is still being loaded is slow, not stuck.
    link.ready.then(wait, wait)
  }

  #replaceIfStuck(link: Link, call: Call): void {
    if (link !== this.#link || call.answered) return
    this.#drop()
    if (this.#current) this.#start(this.#current)
  }

  #lose(link: Link, why: string): void {
    if (link !== this.#link) return
    this.#drop()
    this.#fail(why)
  }

  #fail(why: string): void {
    if (this.#current) this.#settle(this.#current, lost(this.#current.time, why))
  }

  #drop(): void {
    this.#link?.close()
    this.#link = undefined
  }

  #heard(): void {
    clearTimeout(this.#silence)
    if (this.#current) this.#silence = setTimeout(() => this.#doubt(), longSilence)
  }

  /** A computer that slept fires this before it hands over what the worker said meanwhile: wait once more. */
  #doubt(): void {
    const link = this.#link
    if (!link) return
    this.#silence = setTimeout(() => this.#lose(link, `no word for ${longSilence / 1000} s`), patience)
  }
}

function messageOf(error: unknown): string {
  return error instanceof Error ? error.message : String(error)
}

function lost(time: number, why: string): Failed {
  return {
    outcome: 'failed',
    at: time,
    state: 'worker',
    say:
      `The computation broke off after ${time.toPrecision(3)} s of line time (${why}). ` +
      'Run it again: it starts afresh. If it breaks off again, take back the last change or shorten the run (run/for).',
  }
}

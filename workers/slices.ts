/**
 * Drives one run in short slices with a macrotask between them, so that the worker hears a cancel while it computes.
 * Pure: the clock, the pause and the teller are handed in, the tests bring their own.
 */
import type { Failed, Outcome } from '../src/run/outcome'
import type { Block, RunPlan } from '../src/run/record'

/** What a run offers to whoever drives it; `Run` of src/run is one. */
export interface Steps {
  readonly plan: RunPlan
  /** s of line time reached */
  readonly time: number
  step(): Outcome | undefined
  takeBlock(): Block | undefined
}

export interface Clock {
  /** ms */
  now(): number
  /** Resolves in a later macrotask. */
  pause(): Promise<void>
}

/** Each resolves when the other side has taken what it was told. */
export interface Teller {
  began(plan: RunPlan): Promise<unknown>
  block(block: Block): Promise<unknown>
  progress(share: number, time: number): Promise<unknown>
}

export interface Pace {
  /** ms of work between two pauses */
  readonly slice: number
  /** The first slice ends after this many ms or s of line time: traces should begin at once. */
  readonly firstSlice: number
  readonly firstLineTime: number
  /** ms between two blocks */
  readonly between: number
  /** ms of work (not of pauses, so that a sleeping computer costs nothing) after which the run is given up */
  readonly budget: number
}

export const usualPace: Pace = { slice: 10, firstSlice: 15, firstLineTime: 1, between: 50, budget: 120_000 }

const cancelled: Outcome = { outcome: 'cancelled' }

export async function runInSlices(
  run: Steps,
  teller: Teller,
  clock: Clock,
  stopped: () => boolean,
  pace: Pace = usualPace,
): Promise<Outcome> {
  const post = new Post(run, teller, clock, pace.between)
  let worked = 0
  let [length, lineTime] = [pace.firstSlice, pace.firstLineTime]
  for (;;) {
    const began = clock.now()
    const outcome = slice(run, clock, began + length, lineTime)
    worked += clock.now() - began
    const end = outcome ?? (worked >= pace.budget ? outOfTime(run, pace.budget) : undefined)
    if (end) {
      await post.everything()
      return end
    }
    post.whenDue()
    await clock.pause()
    if (stopped()) return cancelled
    ;[length, lineTime] = [pace.slice, Infinity]
  }
}

function slice(run: Steps, clock: Clock, deadline: number, lineTime: number): Outcome | undefined {
  for (;;) {
    const outcome = run.step()
    if (outcome || clock.now() >= deadline || run.time >= lineTime) return outcome
  }
}

/**
 * Sends blocks, never a second one before the first was taken: a page that is slow to draw gets fewer and longer
 * blocks instead of a queue that grows.
 */
class Post {
  #started = false
  #sentAt = -Infinity
  #underway: Promise<void> | undefined
  #broken: { readonly error: unknown } | undefined

  constructor(
    private readonly run: Steps,
    private readonly teller: Teller,
    private readonly clock: Clock,
    private readonly between: number,
  ) {}

  whenDue(): void {
    if (this.#broken) throw this.#broken.error
    if (!this.#underway && this.clock.now() - this.#sentAt >= this.between) this.#send()
  }

  /** Returns when the other side has all samples: the outcome travels another way and must not overtake them. */
  async everything(): Promise<void> {
    await this.#underway
    this.#send()
    await this.#underway
    if (this.#broken) throw this.#broken.error
  }

  #send(): void {
    this.#sentAt = this.clock.now()
    const { time, plan } = this.run
    const block = this.run.takeBlock()
    const told = this.#started ? [] : [this.teller.began(plan)]
    this.#started = true
    if (block) told.push(this.teller.block(block))
    told.push(this.teller.progress(Math.min(1, time / plan.duration), time))
    this.#underway = Promise.all(told).then(
      () => void (this.#underway = undefined),
      (error: unknown) => void (this.#broken = { error }),
    )
  }
}

function outOfTime(run: Steps, budget: number): Failed {
  const { plan, time } = run
  const seconds = Math.round(budget / 1000)
  return {
    outcome: 'failed',
    at: time,
    state: 'computing time',
    say:
      `The run was given ${seconds} s of computing time and reached ${time.toPrecision(4)} s of ${plan.duration} s. ` +
      'Shorten it (run/for), allow a larger tolerance (run/tolerance), or look for what forces small steps: ' +
      'a very light roller, a very short span, heavy film damping.',
  }
}

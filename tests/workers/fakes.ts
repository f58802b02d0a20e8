/** A run, a clock and a listener that do exactly what the test says. */
import type { Outcome } from '../../src/run/outcome'
import type { Block, RunPlan } from '../../src/run/record'
import type { WorkerLike } from '../../workers/bridge'
import type { Clock, Steps } from '../../workers/slices'

export function planFor(duration: number, title = 'a fake line'): RunPlan {
  return {
    title,
    duration,
    tick: 0.01,
    channels: [{ key: 'tension/a', group: 'tension', name: 'a', kind: 'force', place: 0 }],
    spans: [],
    dancers: [],
    pace: { fastestMode: 0, fastestDecay: 0 },
    events: [],
    feeds: [],
  }
}

export const finished: Outcome = {
  outcome: 'finished',
  summary: {
    title: 'a fake line',
    spans: [],
    dancers: [],
    rollers: [],
    drives: [],
    film: { unwound: 1, wound: 1, held: 0, scrap: 0, imbalance: 0 },
    happenings: [],
    solver: { steps: 1, evaluations: 1, events: 0 },
  },
}

/** Time passes only when the test or the fake run says so. */
export class FakeClock implements Clock {
  time = 0
  pauses: number[] = []
  private readonly due: { at: number; act: () => void }[] = []

  now = () => this.time

  at(time: number, act: () => void): void {
    this.due.push({ at: time, act })
  }

  async pause(): Promise<void> {
    this.pauses.push(this.time)
    await new Promise((resolve) => setImmediate(resolve))
    for (const item of this.due.splice(0)) {
      if (item.at <= this.time) item.act()
      else this.due.push(item)
    }
  }
}

/** A run whose every tick of 10 ms of line time takes `cost` ms of the fake clock. */
export class FakeRun implements Steps {
  readonly plan: RunPlan
  steps = 0
  private sent = 0

  constructor(
    readonly duration: number,
    private readonly passTime: () => void,
  ) {
    this.plan = planFor(duration)
  }

  get time(): number {
    return this.steps * this.plan.tick
  }

  step(): Outcome | undefined {
    this.passTime()
    this.steps += 1
    return this.time >= this.duration ? finished : undefined
  }

  takeBlock(): Block | undefined {
    const count = this.steps - this.sent
    if (count === 0) return undefined
    const data = new Float64Array(2 * count)
    for (let i = 0; i < count; i++) data[i] = data[count + i] = (this.sent + i + 1) * this.plan.tick
    const block = { from: this.sent, count, data, lifts: [], happenings: [] }
    this.sent = this.steps
    return block
  }
}

/** What a failed outcome says; any other one is not what the test waits for. */
export function sayOf(outcome: Outcome | 'open'): string {
  if (outcome === 'open' || outcome.outcome !== 'failed') throw new Error(`not failed: ${JSON.stringify(outcome)}`)
  return outcome.say
}

/** As good as a worker: what is posted arrives later, cloned. */
export class PortWorker {
  readonly listeners = new Map<string, EventListener>()
  terminated = false

  constructor(private readonly port: MessagePort) {}

  asWorker(): WorkerLike {
    const { port } = this
    return {
      postMessage: (message, transfer) => {
        if (!this.terminated) port.postMessage(message, transfer ?? [])
      },
      addEventListener: (type, hear) => {
        const listener: EventListener = typeof hear === 'function' ? hear : (event) => hear.handleEvent(event)
        if (type === 'message') port.addEventListener(type, listener)
        else this.listeners.set(type, listener)
      },
      removeEventListener: () => {},
      start: () => port.start(),
      terminate: () => {
        this.terminated = true
        port.close()
      },
    }
  }
}

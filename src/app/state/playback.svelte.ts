/** Plays a run: moves the one cursor that drawing, strip and traces share. Frames of the screen are asked for only while it plays. */
import { shifted } from '../charts/window'
import type { Look } from './look.svelte'
import type { RunState } from './run.svelte'

/** Line time for each second that passes. */
export const rates = [1 / 16, 1 / 4, 1, 4] as const
export type Rate = (typeof rates)[number]

export interface Frames {
  /** Calls back at the next frame with a time in ms. */
  request(act: (now: number) => void): number
  cancel(asked: number): void
}

const ofScreen: Frames = {
  request: (act) => requestAnimationFrame(act),
  cancel: (asked) => cancelAnimationFrame(asked),
}

/** s; after a longer pause between two frames (a hidden page) it goes on from where it was. */
const longestFrame = 0.25

export class Playback {
  playing = $state.raw(false)
  rate = $state.raw<Rate>(1)

  #asked = 0
  #last: number | null = null
  /** Where this has put the cursor: found elsewhere, another hand has taken it. */
  #put: number | null = null

  constructor(
    private readonly look: Look,
    private readonly run: RunState,
    private readonly frames: Frames = ofScreen,
  ) {}

  /** s, as far as the run shown has come; a trace grows without being replaced. */
  get reached(): number {
    return this.run.picture >= 0 ? (this.run.shown?.reached ?? 0) : 0
  }

  get duration(): number {
    return this.run.shown?.plan.duration ?? 0
  }

  get tick(): number {
    return this.run.shown?.plan.tick ?? 0.01
  }

  /** s, the cursor */
  get time(): number {
    return this.look.cursor ?? this.reached
  }

  play(): void {
    if (this.playing || this.duration === 0) return
    if (this.time >= this.duration - this.tick / 2) this.#put = this.look.cursor = 0
    else this.#put = this.look.cursor = this.time
    this.playing = true
    this.#last = null
    this.#ask()
  }

  pause(): void {
    this.frames.cancel(this.#asked)
    this.playing = false
  }

  toggle(): void {
    if (this.playing) this.pause()
    else this.play()
  }

  /** Puts the cursor at an instant and holds it there. */
  scrub(time: number): void {
    this.pause()
    this.#go(time)
  }

  toStart(): void {
    this.#go(0)
  }

  slower(): void {
    this.#shift(-1)
  }

  faster(): void {
    this.#shift(1)
  }

  get slowest(): boolean {
    return this.rate === rates[0]
  }

  get fastest(): boolean {
    return this.rate === rates.at(-1)
  }

  #shift(by: number): void {
    this.rate = rates[rates.indexOf(this.rate) + by] ?? this.rate
  }

  #go(time: number): void {
    const to = Math.min(Math.max(0, time), this.duration)
    this.#put = this.look.cursor = to
    const { window } = this.look
    // Where the charts show but a stretch of the run, they turn the page.
    if (window && to > window.max) this.look.window = shifted(window, to - window.min, this.duration)
    if (window && to < window.min) this.look.window = shifted(window, to - window.min, this.duration)
  }

  #ask(): void {
    this.#asked = this.frames.request((now) => this.#frame(now))
  }

  #frame(now: number): void {
    if (!this.playing) return
    if (this.look.cursor !== this.#put) {
      this.pause()
      return
    }
    const passed = this.#last === null ? 0 : Math.min((now - this.#last) / 1000, longestFrame)
    this.#last = now
    // A run under way is not overtaken.
    this.#go(Math.min(this.time + passed * this.rate, this.reached))
    if (this.time >= this.duration) this.pause()
    else this.#ask()
  }
}

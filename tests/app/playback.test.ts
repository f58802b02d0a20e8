import { beforeEach, expect, test } from 'vitest'
import { Look } from '../../src/app/state/look.svelte'
import { Playback, type Frames } from '../../src/app/state/playback.svelte'
import { RunState } from '../../src/app/state/run.svelte'
import { Trace } from '../../src/app/state/trace'
import type { RunPlan } from '../../src/run/record'

/** Frames that come when the test says so. */
class Clock implements Frames {
  #act: ((now: number) => void) | null = null
  #now = 0

  request(act: (now: number) => void): number {
    this.#act = act
    return 1
  }

  cancel(): void {
    this.#act = null
  }

  get waits(): boolean {
    return this.#act !== null
  }

  /** Frames of 100 ms. */
  pass(frames: number): void {
    for (let k = 0; k < frames; k++) {
      const act = this.#act
      this.#act = null
      this.#now += 100
      act?.(this.#now)
    }
  }
}

const plan: RunPlan = {
  title: '',
  duration: 10,
  tick: 0.01,
  channels: [],
  spans: [],
  dancers: [],
  pace: { fastestMode: 1, fastestDecay: 1 },
  events: [],
  feeds: [],
}

const nobody = { run: () => new Promise<never>(() => undefined), cancel: () => undefined, dispose: () => undefined }

let [look, run, clock, playback]: [Look, RunState, Clock, Playback] = make(10)

/** A run recorded up to an instant. */
function make(reached: number): [Look, RunState, Clock, Playback] {
  const [newLook, newRun, newClock] = [new Look(), new RunState(nobody), new Clock()]
  newRun.trace = new Trace(plan)
  newRun.trace.append({ from: 0, count: 2, data: Float64Array.of(0, reached), lifts: [], happenings: [] })
  return [newLook, newRun, newClock, new Playback(newLook, newRun, newClock)]
}

beforeEach(() => {
  ;[look, run, clock, playback] = make(10)
})

test('plays from the start when the cursor is at the end, and moves it by the time that passes', () => {
  expect(playback.time).toBe(10)
  playback.play()
  clock.pass(1)
  expect([look.cursor, playback.playing]).toEqual([0, true])
  clock.pass(5)
  expect(look.cursor).toBeCloseTo(0.5, 9)
  playback.pause()
  expect(clock.waits).toBe(false)
})

test('goes slower and faster, to the ends of its list', () => {
  look.cursor = 2
  playback.slower()
  playback.play()
  clock.pass(5)
  expect(look.cursor).toBeCloseTo(2 + 0.4 / 4, 9)
  playback.slower()
  playback.slower()
  expect([playback.rate, playback.slowest]).toEqual([1 / 16, true])
  for (let k = 0; k < 5; k++) playback.faster()
  expect([playback.rate, playback.fastest]).toEqual([4, true])
})

test('stops at the end of the run, and waits where a run under way has come', () => {
  look.cursor = 9.9
  playback.play()
  clock.pass(4)
  expect([look.cursor, playback.playing, clock.waits]).toEqual([10, false, false])
  ;[look, run, clock, playback] = make(3)
  look.cursor = 2.9
  playback.play()
  clock.pass(5)
  expect([look.cursor, playback.playing]).toEqual([3, true])
})

test('another hand on the cursor ends playing, and keeps the cursor', () => {
  look.cursor = 1
  playback.play()
  clock.pass(3)
  look.cursor = 7
  clock.pass(2)
  expect([look.cursor, playback.playing, clock.waits]).toEqual([7, false, false])
})

test('scrubbing puts the cursor within the run and holds it', () => {
  playback.play()
  playback.scrub(4)
  expect([look.cursor, playback.playing, clock.waits]).toEqual([4, false, false])
  playback.scrub(99)
  expect(look.cursor).toBe(10)
  playback.toStart()
  expect(look.cursor).toBe(0)
})

test('turns the page of charts that show but a stretch', () => {
  look.window = { min: 1, max: 3 }
  playback.scrub(3.5)
  expect(look.window.min).toBeCloseTo(3.5, 9)
  expect(look.window.max).toBeCloseTo(5.5, 9)
  playback.scrub(0.5)
  expect(look.window.min).toBeCloseTo(0.5, 9)
})

test('plays nothing before there is a run', () => {
  run.trace = null
  playback.play()
  expect([playback.playing, clock.waits]).toEqual([false, false])
})

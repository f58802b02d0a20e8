/**
 * Stability limit of the sampled position loop against the z-domain (tests/reference/sampled_loop.m): 2 % below the limit gain a
 * run decays, 2 % above it grows, and as fast as the roots there say.
 */
import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { dancer, finish, nip, rewind, runOf, span, trim, unwind } from '../line/rig'

interface Limit {
  sample: number
  lag: number
  filter: number
  delayed: boolean
  integralOverGain: number
  limitGain: number
  growthBelow: number
  growthAbove: number
}

const limits = JSON.parse(readFileSync('tests/reference/sampled-loop.json', 'utf8')) as Limit[]

const DURATION = 16

/** 1/s: exponential growth of the swing, from its root mean square in the middle and in the last quarter of a run. */
function growth(limit: Limit, share: number): number {
  const { sample, lag, filter, delayed, integralOverGain, limitGain } = limit
  const gain = share * limitGain
  const program = { sample: `${sample} s`, filter: `${filter} s`, delayed }
  const line = [
    ...[unwind(100, { drive: { kind: 'lag', lag: `${lag} s` } }), span(0.4, 1e-3)],
    dancer('dancer', { mass: '0.5 kg', damping: '10 N s/m' }),
    ...[span(0.4, 1e-3), nip('nip'), span(1), rewind()],
  ]
  const control = [
    trim('dancer', 'unwind', { gain: `${gain} 1/s`, integral: `${gain * integralOverGain} 1/s^2`, program }),
  ]
  const setting = { line, control, speed: 0.5, duration: DURATION, tick: 0.01, tolerance: 1e-6 }
  const run = runOf(setting, ({ line: { carriages, spans, unwoundState }, y }) => {
    y[carriages[0].state] = 1e-3
    carriages[0].place(0, y)
    for (const j of carriages[0].strands.spans) spans.hold(j, 100, y, unwoundState)
  })
  const { state } = run.line.carriages[0]
  const squares = [0, 0]
  finish(run, ({ time, y }) => {
    const quarter = Math.ceil((4 * time) / DURATION - 1e-9)
    if (quarter === 2) squares[0] += y[state] ** 2
    if (quarter === 4) squares[1] += y[state] ** 2
  })
  return Math.log(squares[1] / squares[0]) / 2 / (DURATION / 2)
}

describe.each(limits)('sample $sample s, lag $lag s, filter $filter s, delayed $delayed', (limit) => {
  test('decays 2 % below the limit gain, grows 2 % above', () => {
    const [below, above] = [growth(limit, 0.98), growth(limit, 1.02)]
    expect(below).toBeLessThan(0)
    expect(above).toBeGreaterThan(0)
    expect(Math.abs(below - limit.growthBelow)).toBeLessThan(0.015)
    expect(Math.abs(above - limit.growthAbove)).toBeLessThan(0.015)
  })
})

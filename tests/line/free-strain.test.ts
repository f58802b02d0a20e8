/** Films that grow or shrink, and several films in one span: against springs in series reckoned by hand. Statics. */
import { describe, expect, test } from 'vitest'
import { EA, evaluate, finish, nip, pet, rewind, runOf, span, timeOf, unwind, type Entry, type Setting } from './rig'

const B = { ...pet, thickness: '80 µm', width: '0.7 m', modulus: '3 GPa' }
const EB = 3e9 * 80e-6 * 0.7
const films = { B }
const line = [unwind(100), span(0.8), nip('nip 1'), span(0.6), nip('nip 2'), span(1.1), rewind()]
const free = (film: string, to: number, changes: Entry = {}): Entry => ({
  ...{ at: '0.5 s', do: 'free strain', film, to: `${100 * to} %`, in: '1 s', ...changes },
})
const paste = (changes: Entry = {}): Entry => ({
  ...{ at: '0.2 s', do: 'flying splice', film: 'B', patch: '300 mm' },
  ...{ roll: { diameter: '400 mm', core: '90 mm', woundTension: '70 N' }, ...changes },
})

function ended(setting: Setting) {
  const run = runOf({ films, ...setting })
  const { spans } = finish(run)
  evaluate(run)
  return { run, spans }
}

describe('at a fixed draw', () => {
  test.each([
    ['grows', 2e-4],
    ['shrinks', -3e-4],
  ])('film that %s between rollers that stand gives up EA theta', (_what, strain) => {
    const { spans } = ended({ line, speed: 0, threading: 100, stage: [free('A', strain)], duration: 2 })
    for (const { tension } of spans) expect(tension.end - tension.start).toBeCloseTo(-EA * strain, 6)
  })

  test('and as much on a running line, at once and when all film has been renewed', () => {
    const { spans, run } = ended({ line, stage: [free('A', 2e-4)], duration: 12, tick: 0.05 })
    for (const { tension } of spans) {
      expect(tension.end).toBeCloseTo(100 - EA * 2e-4, 2)
      expect(tension.max).toBeLessThan(100.01)
    }
    expect(run.line.balance(run.y)).toBeCloseTo(-run.tally.startHeld, 9)
  })

  test('goes on steadily from one value to the next, and back', () => {
    const stage = [free('A', 2e-4), free('A', -1e-4, { at: '2 s' }), free('A', 0, { at: '4 s' })]
    const run = runOf({ line, speed: 0, threading: 100, stage, duration: 5.2 })
    const at = new Map<number, number>()
    finish(run, ({ time, line: built }) => at.set(Math.round(100 * time), built.spans.force[0]))
    const expected = [100, 100 - EA * 1e-4, 100 - EA * 2e-4, 100 - EA * 0.5e-4, 100 + EA * 1e-4, 100]
    for (const [k, t] of [50, 100, 180, 250, 350, 510].entries()) expect(at.get(t)).toBeCloseTo(expected[k], 5)
  })

  test('film that grows more than it is strained hangs, and is taut again when it shrinks', () => {
    const stage = [free('A', 6e-4), free('A', 0, { at: '2 s' })]
    const { run, spans } = ended({ line, speed: 0, threading: 100, stage, duration: 3.2 })
    expect(timeOf(run, 'slack')).toBeGreaterThan(0.5)
    expect(timeOf(run, 'taut')).toBeGreaterThan(2)
    expect(spans[0].tension.end).toBeCloseTo(100, 6)
  })

  test('another film keeps its own', () => {
    const { spans } = ended({ line, speed: 0, threading: 100, stage: [free('B', 5e-4)], duration: 2 })
    for (const { tension } of spans) expect(tension.end).toBeCloseTo(100, 9)
  })
})

describe('several films in one span pull as springs in series', () => {
  /** Elastic tension of a span between tape coordinates `upper` and `lower`, from the pieces that lie there. */
  function series(length: number, upper: number, lower: number, edges: number[], theta: number[]): number {
    const stiffness = [EA, EA + EB, EB]
    const bounds = [-Infinity, ...edges, Infinity]
    let [slackLength, compliance] = [0, 0]
    stiffness.forEach((k, n) => {
      const m = Math.max(0, Math.min(upper, bounds[n + 1]) - Math.max(lower, bounds[n]))
      slackLength += m * (1 + theta[n])
      compliance += m / k
    })
    return (length - slackLength) / compliance
  }

  test.each([
    ['without free strain', 0, 0],
    ['while they grow unequally', 3e-4, -2e-4],
  ])('%s', (_name, a, b) => {
    const stage = [paste(), free('A', a), free('B', b)]
    const run = runOf({ line, films, stage, duration: 3.2, tick: 0.02 })
    let mixed = 0
    finish(run, ({ time, y, line: built }) => {
      if (time <= 0.2) return
      const { spans, tape } = built
      const share = Math.min(1, Math.max(0, time - 0.5))
      // a quarter of the ramp's time for each rounded end
      const s =
        share < 0.25 ? (share * share) / 0.375 : share > 0.75 ? 1 - (1 - share) ** 2 / 0.375 : (share - 0.125) / 0.75
      const theta = [a * s, ((EA * a + EB * b) / (EA + EB)) * s, b * s]
      let upper = y[built.unwoundState]
      for (let j = 0; j < spans.count; j++) {
        const lower = upper - y[j]
        const expected = series(spans.length[j], upper, lower, tape.edges, theta)
        expect(Math.abs(spans.elastic[j] - expected)).toBeLessThan(1e-6 * Math.abs(expected) + 1e-6)
        if (tape.edges.some((edge) => edge < upper && edge > lower)) mixed++
        upper = lower
      }
    })
    expect(mixed).toBeGreaterThan(100)
  })

  test('the overlap is as stiff, as heavy and as thick as both, and as wide as the wider', () => {
    const { run } = ended({ line, stage: [paste()], duration: 0.3 })
    const [first, patch, second] = run.line.tape.materials
    const stiffness = [first, patch, second].map((m) => m.stiffness)
    for (const [k, expected] of [EA, EA + EB, EB].entries()) expect(stiffness[k]).toBeCloseTo(expected, 6)
    expect(patch.massPerLength).toBeCloseTo(1390 * (50e-6 * 1 + 80e-6 * 0.7), 12)
    expect(patch.thickness).toBeCloseTo(130e-6, 12)
    expect([patch.width, second.width]).toEqual([1, 0.7])
    expect(run.line.tape.edges[1] - run.line.tape.edges[0]).toBeCloseTo(0.3, 12)
  })
})

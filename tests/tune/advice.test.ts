/** Advice on shipped scenarios: it halves the worst deviation, or says what stands in the way; and what it says holds in the simulator. */
import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { begin } from '../../src/run/run'
import { readScenario } from '../../src/scenario/read'
import type { Scenario } from '../../src/scenario/schema'
import { advise, type Advice, type AdviceStep, type Aims, type Effort } from '../../src/tune/advice'
import { edgesOf, sidesOf, subjectOf } from '../../src/tune/advice-box'
import { measuresOf } from '../../src/tune/measures'
import { search } from '../../src/tune/search'
import { sheetRows } from '../../src/tune/sheet'
import { dancer, nip, rewind, scenarioOf, span, trim, unwind } from '../line/rig'

const aims = { band: 0.03, phaseMargin: 0.7, travelShare: 0.8 }
const effort: Effort = { scatter: 14, walk: 16, tries: 2 }
const little: Effort = { scatter: 12, walk: 6, tries: 1 }

function shipped(file: string): Scenario {
  const reading = readScenario(readFileSync(`scenarios/${file}.json`, 'utf8'))
  if (!reading.ok) throw new Error(reading.problems.map((p) => p.say).join(' '))
  return reading.scenario
}

function adviceFor(scenario: Scenario, name: string, wanted: Aims, spent: Effort): Advice {
  const work = advise(scenario, name, wanted, spent)
  for (let next = work.next(); ; next = work.next()) {
    if (next.done !== true) continue
    if (next.value.ok) return next.value
    throw new Error(next.value.say)
  }
}

function advice(scenario: Scenario, dancer: string, spent: Effort = effort): { advice: Advice; steps: AdviceStep[] } {
  const work = advise(scenario, dancer, aims, spent)
  const steps: AdviceStep[] = []
  for (let next = work.next(); ; next = work.next()) {
    if (next.done !== true) steps.push(next.value)
    else if (next.value.ok) return { advice: next.value, steps }
    else throw new Error(next.value.say)
  }
}

describe('advice', () => {
  test('a loop that looks too seldom: far less than half the deviation, with the margin asked for', () => {
    const scenario = shipped('loop-too-slow')
    const { advice: found, steps } = advice(scenario, 'infeed dancer')
    expect(found.gain).toBeGreaterThan(2)
    expect(found.met).toBe(true)
    expect(found.linearBefore.phaseMargin).toBeLessThan(0.05)
    expect(found.linearAfter.phaseMargin).toBeGreaterThan(0.69)
    expect(found.changes.every(({ why }) => why.length > 20)).toBe(true)
    // what ends at the edge of the box says so, and nothing else does
    const subject = subjectOf(scenario, 'infeed dancer')
    if (subject === undefined) throw new Error('no dancer')
    const sides = sidesOf(subject)
    const values = sides.map(({ path, old }) => found.changes.find((change) => change.path === path)?.new ?? old)
    const edges = edgesOf(sides, values)
    for (const { path, why } of found.changes) expect(why.includes('edge of what was searched')).toBe(edges.has(path))
    // what it says of the simulator is what the simulator says
    const run = begin(found.scenario)
    if ('outcome' in run) throw new Error(run.say)
    let outcome
    while (outcome === undefined) outcome = run.step()
    if (outcome.outcome !== 'finished') throw new Error(outcome.outcome)
    expect(measuresOf(run.line, outcome.summary, 'infeed dancer')).toEqual(found.after)
    // steps tell how far it is, and never go back
    expect(steps.length).toBeGreaterThan(30)
    steps.forEach(({ done }, k) => expect(done).toBeGreaterThanOrEqual(k > 0 ? steps[k - 1].done - 1e-9 : 0))
    expect(steps[steps.length - 1].done).toBeLessThanOrEqual(1)
    const rows = sheetRows(scenario, found.scenario, 'infeed dancer', found.changes)
    const gain = rows.find((r) => r.quantity === 'gain' && r.form === 'parallel')
    expect(gain?.old).toBe(5)
    expect(gain?.new).toBeLessThan(5)
    expect(rows.find((r) => r.quantity === 'integral time')?.old).toBeCloseTo(5 / 0.3, 9)
    expect(rows.find((r) => r.form === 'relative')?.unit).toContain('% of line speed')
  })

  test('a zero-speed splice: halved but for the friction of the dancer, which is named', () => {
    const { advice: found } = advice(shipped('zero-speed-splice'), 'infeed dancer')
    // 1.5 N of friction over two strands is left whatever is set
    const floor = 0.75
    expect((found.before.newtons - floor) / (found.after.newtons - floor)).toBeGreaterThan(2)
    expect(found.gain > 2 || found.limits.some((say) => say.includes('Dry friction'))).toBe(true)
  })

  test('indexing: what does most of the rest is named where half is out of reach', () => {
    const { advice: found } = advice(shipped('continuous-to-indexing'), 'index dancer', little)
    expect(found.gain).toBeGreaterThan(1.2)
    expect(found.gain > 2 || found.limits.some((say) => say.includes('feed of index roller'))).toBe(true)
    expect(found.linearAfter.phaseMargin).toBeGreaterThan(found.linearBefore.phaseMargin ?? 0)
  })

  test('a dancer that sticks is left as it is: no gain takes friction away', () => {
    const { advice: found } = advice(shipped('sticky-dancer-hunting'), 'infeed dancer', little)
    expect(found.met).toBe(false)
    expect(found.limits.join(' ')).toContain('Dry friction')
  })

  test('an aim for travel is kept where gains can keep it, though tension gains nothing by it', () => {
    const line = [
      ...[unwind(100, { drive: { kind: 'lag', lag: '100 ms' } }), span(0.5, 1e-3)],
      dancer('dancer', { lowerStop: '-20 mm', upperStop: '20 mm', damping: '1 N s/m', slidingFriction: '20 N' }),
      ...[span(0.5, 1e-3), nip('nip'), span(0.5, 1e-3), rewind()],
    ]
    const control = [trim('dancer', 'unwind', { gain: '0.5 1/s', integral: '0.05 1/s^2' })]
    const stage = [{ do: 'draw', at: '0.5 s', roller: 'nip', to: '2 %', in: '0.5 s' }]
    const scenario = scenarioOf({ line, control, stage, speed: 0.5, tick: 0.02, duration: 6, tolerance: 1e-6 })
    const [loose, tight] = [0.9, 0.12].map((travelShare) =>
      adviceFor(scenario, 'dancer', { band: 0.5, phaseMargin: 0.7, travelShare }, { scatter: 16, walk: 16, tries: 2 }),
    )
    expect(tight.before.travelShare).toBeGreaterThan(0.2)
    expect(tight.after.travelShare).toBeLessThan(0.121)
    // friction holds back most of the tension, whatever is set: without the aim there is hardly a reason for another gain
    expect(tight.after.travelShare).toBeLessThan(0.7 * loose.after.travelShare)
    expect(tight.changes.find(({ name }) => name === 'gain')?.why).toContain('less travel')
  })

  test('no dancer, or another name: told, with the names that there are', () => {
    const line = [unwind(100), span(1), nip('nip'), span(1), rewind()]
    expect(advise(scenarioOf({ line, speed: 0.5 }), 'dancer', aims).next()).toMatchObject({
      value: { ok: false, say: expect.stringContaining('no dancer') as string },
    })
    expect(advise(shipped('start-stop'), 'dancer', aims).next()).toMatchObject({
      value: { ok: false, say: expect.stringContaining('infeed dancer and winding dancer') as string },
    })
  })

  test('a line without a steady state: told', () => {
    const scenario = shipped('loop-too-slow')
    const broken = { ...scenario, line: scenario.line.map((p) => (p.part === 'dancer' ? { ...p, force: 1 } : p)) }
    expect(advise(broken, 'infeed dancer', aims).next().done).toBe(false)
    const work = advise(broken, 'infeed dancer', aims)
    work.next()
    expect(work.next()).toMatchObject({ done: true, value: { ok: false } })
  })
})

describe('the bounded search', () => {
  test('finds the bottom of a valley inside the box, and one on its rim, and keeps to the box', () => {
    for (const [x0, y0] of [
      [0.3, 0.7],
      [1, 0.2],
      [0, 0],
    ]) {
      const seen: (readonly number[])[] = []
      const work = search(
        2,
        (at) => {
          seen.push(at)
          return (at[0] - x0) ** 2 + 10 * (at[1] - y0 - 0.2 * (at[0] - x0)) ** 2
        },
        { first: [0.5, 0.5], scatter: 20, walk: 80 },
      )
      let last = work.next()
      while (last.done !== true) last = work.next()
      expect(last.value[0].value).toBeLessThan(1e-4)
      expect(seen.flat().every((x) => x >= 0 && x <= 1)).toBe(true)
    }
  })
})

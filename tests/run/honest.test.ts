/** What the shipped scenarios about honest machines teach: each figure is the lesson that its text promises. */
import { describe, expect, test } from 'vitest'
import { setField } from '../../src/scenario/path'
import type { Run } from '../../src/run/run'
import { finish, open, ready } from './lines'

function scenario(name: string, changes: Readonly<Record<string, string>> = {}): unknown {
  return Object.entries(changes).reduce<unknown>(
    (document, [path, text]) => {
      const setting = setField(document, path, text)
      if (!setting.ok) throw new Error(setting.problem.say)
      return setting.document
    },
    open(`scenarios/${name}.json`),
  )
}

/** A run and one figure of it at every tick between two times (s). */
function course(name: string, read: (run: Run) => number, from: number, to: number, changes?: Record<string, string>) {
  const run = ready(scenario(name, changes) as Record<string, unknown>)
  const seen: number[] = []
  const { summary } = finish(run, (now) => {
    if (now.time >= from && now.time <= to) seen.push(read(now))
  })
  return { run, summary, seen, swing: Math.max(...seen) - Math.min(...seen) }
}

const position = ({ line, y }: Run) => y[line.carriages[0].state]
const lastTension = ({ line }: Run) => line.spans.force[line.spans.count - 1]

test('sticky dancer: it hunts to the end, and does not without friction', () => {
  const hunting = course('sticky-dancer-hunting', position, 30, 40)
  const late = hunting.summary.happenings.filter((h) => h.at > 30 && h.part === 'infeed dancer')
  expect(late.filter((h) => h.what === 'sticks').length).toBeGreaterThan(0)
  expect(late.filter((h) => h.what === 'turns').length).toBeGreaterThan(0)
  expect(hunting.swing).toBeGreaterThan(1e-4)
  // the film feels what the dancer does not show: friction at rest, once each way, on two strands
  const [strand] = hunting.run.line.carriages[0].strands.spans
  const pull = course('sticky-dancer-hunting', ({ line }) => line.spans.force[strand], 30, 40)
  expect(pull.swing).toBeGreaterThan(3)
  const free = { 'line/infeed dancer/slidingFriction': '0 N', 'line/infeed dancer/frictionAtRest': '0 N' }
  const calm = course('sticky-dancer-hunting', position, 30, 40, free)
  expect(calm.swing).toBeLessThan(hunting.swing / 10)
})

test('dancer out of travel: both stops are touched, and the film pays', () => {
  const { summary } = course('dancer-out-of-travel', position, 0, 16)
  for (const d of summary.dancers) expect(d.stopSeconds).toBeGreaterThan(0.1)
  const touched = summary.happenings.filter((h) => h.what === 'stop touched')
  expect(touched.length).toBeGreaterThan(2)
  const peak = Math.max(...summary.spans.map((s) => s.tension.max))
  expect(peak).toBeGreaterThan(100)
})

test('open brake on a stop: film hangs slack, and does not with a brake that is strong enough', () => {
  const slack = course('open-brake-on-a-stop', lastTension, 0, 0)
  // the idlers run on as well: what hangs gathers before the nip
  expect(slack.summary.spans[4].name).toBe('idler 3 → print nip')
  expect(slack.summary.spans[4].slackSeconds).toBeGreaterThan(0.05)
  expect(slack.summary.happenings.find((h) => h.what === 'slack')?.at).toBeGreaterThan(2)
  const held = course('open-brake-on-a-stop', lastTension, 0, 0, { 'line/unwind/drive/torque': '16 N m' })
  for (const s of held.summary.spans) expect(s.slackSeconds).toBe(0)
})

test('wrong inertia compensation: tension sags by 60 % of the inertia force, and rises when told too much', () => {
  const told = (share: string) => {
    // the middle of the ramp at 2 s, to 60 m/min within 2 s: straight there
    const { run, seen } = course('wrong-inertia-compensation', lastTension, 2.6, 3.4, {
      'line/rewind/drive/inertiaCompensation': share,
    })
    const { inertia, radius } = run.line.rollers
    const last = run.line.rollers.count - 1
    const mean = seen.reduce((sum, f) => sum + f, 0) / seen.length
    return { mean, force: (inertia[last] / radius[last] ** 2) * (0.5 / (2 * 0.75)) }
  }
  const [right, less, more] = [told('100 %'), told('40 %'), told('140 %')]
  expect((right.mean - less.mean) / (0.6 * less.force)).toBeCloseTo(1, 1)
  expect((more.mean - right.mean) / (0.4 * more.force)).toBeCloseTo(1, 1)
  expect(right.mean - less.mean).toBeGreaterThan(2)
})

test('loop too slow: it swings at 400 ms and is calm at 20 ms', () => {
  const slow = course('loop-too-slow', position, 20, 30)
  const quick = course('loop-too-slow', position, 20, 30, { 'control/0/program/sample': '20 ms' })
  expect(slow.swing).toBeGreaterThan(0.01)
  expect(quick.swing).toBeLessThan(slow.swing / 20)
})

test('residual tension: the stopped line stands, with unequal tensions that stuck idlers hold', () => {
  const run = ready(open('scenarios/residual-tension.json'))
  const idlers = run.line.rollers.names.flatMap((name, i) => (name.startsWith('idler') ? [i] : []))
  expect(idlers).toHaveLength(8)
  const seen: number[][] = []
  finish(run, ({ line: { rollers, spans }, time }) => {
    if (time < 4 || time > 7.9) return
    expect(idlers.map((i) => rollers.mode[i])).toEqual(idlers.map(() => 0))
    seen.push(idlers.map((i) => rollers.filmTorque(i, spans.force)))
  })
  const [first] = seen
  // what they slid with is what they keep: up to 0.02 N m, either way, and none has moved on since
  for (const torques of seen) torques.forEach((torque, k) => expect(torque).toBeCloseTo(first[k], 6))
  expect(Math.max(...first)).toBeGreaterThan(0.01)
  expect(Math.min(...first)).toBeLessThan(-0.01)
  for (const torque of first) expect(Math.abs(torque)).toBeLessThanOrEqual(0.05 + 1e-6)
  const restarts = run.happenings.filter((h) => h.what === 'turns' && h.at > 8 && h.part.startsWith('idler'))
  expect(new Set(restarts.map((h) => h.at)).size).toBeGreaterThan(4)
})

describe('air cylinder dancer', () => {
  const tension = ({ line }: Run) => line.spans.force[3]
  const ripple = (changes: Record<string, string>) => course('air-cylinder-dancer', tension, 8, 14, changes).swing

  test('a reservoir ten times as large quietens the tension, and more pressure raises it', () => {
    const reservoir = { 'line/index dancer/cylinder/deadVolume': '600 cm^3' }
    const small = course('air-cylinder-dancer', tension, 8, 14)
    expect(small.swing).toBeGreaterThan(1.2 * ripple(reservoir))
    const mean = (values: readonly number[]) => values.reduce((sum, f) => sum + f, 0) / values.length
    const after = course('air-cylinder-dancer', tension, 17, 20)
    expect(mean(after.seen) / mean(small.seen)).toBeCloseTo(1 / 0.75, 1)
  })
})

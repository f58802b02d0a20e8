/** Where harmonics meet lightly damped modes, as the Response view is told of it. */
import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import { readScenario } from '../../src/scenario/read'
import type { Scenario } from '../../src/scenario/schema'
import { askResponse } from '../../src/tune/ask-response'
import { beatsOf, meetingsOf } from '../../src/tune/harmonics'

const text = (file: string) => readFileSync(`scenarios/${file}.json`, 'utf8')

function shipped(file: string): Scenario {
  const reading = readScenario(text(file))
  if (!reading.ok) throw new Error(reading.problems.map((p) => p.say).join(' '))
  return reading.scenario
}

test('a fourth harmonic near the point is told of, however many lower ones are met elsewhere', () => {
  const scenario = shipped('roll-soft-film')
  const point = { speed: 1.4 * scenario.speed.start }
  const document: unknown = JSON.parse(text('roll-soft-film'))
  const answer = askResponse(document)({ point, disturbance: '', output: '' })
  if (!answer.ok) throw new Error(answer.say)
  const fourth = answer.meetings.filter(
    ({ harmonic, at }) => harmonic === 4 && at.quantity === 'unwind diameter' && Math.abs(at.value - 0.273) < 0.005,
  )
  expect(fourth.length).toBe(1)
  expect(answer.meetings.length).toBeGreaterThan(8)
})

test('speeds are looked at up to twice that of the point, though the line starts slower', () => {
  const scenario = shipped('start-stop')
  const speed = 4 * scenario.speed.start
  const near = meetingsOf(scenario, { speed }).filter(
    ({ at }) => at.quantity === 'speed' && Math.abs(Math.log(at.value / speed)) < 0.15,
  )
  const fourth = beatsOf(scenario, { speed }).find((b) => b.source === 'rewind' && b.harmonic === 4)
  expect(fourth?.frequency).toBeCloseTo(14.15, 1)
  const met = near.find(({ beat, harmonic }) => beat === 'rewind' && harmonic === 4)
  expect(met?.frequency).toBeCloseTo(12.77, 1)
})

test('a line that starts from rest has speeds all the same: that of the point, and those of its stage', () => {
  const scenario = shipped('start-stop')
  const standing = { ...scenario, speed: { ...scenario.speed, start: 0 } }
  expect(meetingsOf(standing, { speed: 1 }).some(({ at }) => at.quantity === 'speed')).toBe(true)
})

test('each meeting is told once', () => {
  for (const file of ['start-stop', 'roll-soft-film']) {
    const scenario = shipped(file)
    const told = meetingsOf(scenario, { speed: 4 * scenario.speed.start }).map(({ say }) => say)
    expect(told.length).toBeGreaterThan(0)
    expect(new Set(told).size).toBe(told.length)
  }
})

test('no cycle is met at a speed at which the feed has no time for its move', () => {
  const scenario = shipped('continuous-to-indexing')
  for (const { beat, harmonic, at } of meetingsOf(scenario, {}, 20)) {
    if (at.quantity !== 'speed') continue
    const there = beatsOf(scenario, { speed: at.value }).filter((b) => b.source === beat && b.harmonic === harmonic)
    expect(there.length).toBe(1)
  }
})

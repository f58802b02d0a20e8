/** The spans of a whole line: which film and tension are worst, what is told of a slack one, and the order. */
import { expect, test } from 'vitest'
import { prepare } from '../../src/run/prepare'
import { readDocument } from '../../src/scenario/read'
import type { Scenario } from '../../src/scenario/schema'
import { assess, lineSpans, needed } from '../../src/wrinkle'
import thickToThin from '../../scenarios/thick-to-thin.json'
import { shortLine } from '../headless/line'

function scenarioOf(document: unknown): Scenario {
  const reading = readDocument(document)
  if (!reading.ok) throw new Error(reading.problems.map((p) => p.say).join(' '))
  return reading.scenario
}

const short = scenarioOf(shortLine)
const names = ['unwind → idler 1', 'idler 1 → infeed dancer', 'infeed dancer → rewind']
const tensions = (ranges: readonly (readonly [number, number])[]) =>
  ranges.map(([min, max], j) => ({ name: names[j], tension: { min, max } }))

const flat: readonly (readonly [number, number])[] = [
  [60, 80],
  [60, 80],
  [60, 80],
]

test('each span is held against the roller that it meets, with its own length and the film of the line', () => {
  const spans = lineSpans(short, tensions(flat))
  expect(spans.map(({ name }) => name).sort()).toEqual([...names].sort())
  const first = spans.find(({ name }) => name === names[0])
  const { setting } = first?.worst?.assessment ?? {}
  expect(setting).toMatchObject({
    length: 0.7,
    radius: 0.04,
    thickness: 36e-6,
    width: 0.42,
    modulus: 4.5e9,
    nip: false,
  })
  expect(setting?.tension).toBeCloseTo(60 / 0.42, 9)
  // greatest of the speeds that the line is told to run at
  expect(setting?.speed).toBeCloseTo(22 / 60, 12)
  expect(first?.place).toBe(2)
})

test('least tension is the worst here, and what is needed is what keeps it flat', () => {
  const spans = lineSpans(short, tensions(flat))
  for (const span of spans) {
    expect(span.worst?.tension).toBe(60)
    const { setting } = span.worst?.assessment ?? {}
    if (setting === undefined) throw new Error('no setting')
    expect(needed(span)).toBe(assess(setting).flatUpTo)
  }
  // the shortest span forgives least
  expect(spans.map(needed)).toEqual(spans.map(needed).toSorted((a, b) => a - b))
  expect(spans.at(-1)?.name).toBe(names[0])
})

test('where an edge goes slack before troughs begin, that is what alignment is asked for', () => {
  const [first] = lineSpans(
    short,
    tensions([
      [60, 80],
      [60, 80],
      [0.5, 80],
    ]),
  )
  expect(first.name).toBe(names[2])
  const { slackAt, span } = first.worst?.assessment ?? {}
  expect(slackAt).toBeLessThan(span?.critical.peak ?? NaN)
  expect(needed(first)).toBe(slackAt)
})

test('friction and roughness are those of the roller that the span meets', () => {
  const line = shortLine.line.map((part) =>
    part.name === 'idler 1' ? { ...part, friction: 0.21, roughness: '3 µm' } : part,
  )
  const films = { A: { ...shortLine.films.A, roughness: '0.2 µm' } }
  const spans = lineSpans(scenarioOf({ ...shortLine, films, line }), tensions(flat))
  const setting = spans.find(({ name }) => name === names[0])?.worst?.assessment.setting
  expect(setting?.friction).toBe(0.21)
  expect(setting?.filmRoughness).toBeCloseTo(0.2e-6, 15)
  expect(setting?.rollerRoughness).toBeCloseTo(3e-6, 15)
  // a roll of film is as rough as the film
  const last = spans.find(({ name }) => name === names[2])?.worst?.assessment.setting
  expect(last?.rollerRoughness).toBeCloseTo(0.2e-6, 15)
})

test('a slack span comes first and has no limit', () => {
  const spans = lineSpans(
    short,
    tensions([
      [60, 80],
      [60, 80],
      [0, 80],
    ]),
  )
  expect(spans[0]).toMatchObject({ name: names[2], worst: null })
  expect(needed(spans[0])).toBe(0)
})

test('spans that the run does not know are left out', () => {
  expect(lineSpans(short, [])).toEqual([])
})

test('of two spliced films the stiffer one decides at equal forces, on the tensions of a real run', () => {
  const run = prepare({ ...thickToThin, run: { ...thickToThin.run, for: '3 s' } })
  if (!('step' in run)) throw new Error('not run')
  let outcome = run.step()
  while (outcome === undefined) outcome = run.step()
  if (outcome.outcome !== 'finished') throw new Error(outcome.outcome)
  const scenario = scenarioOf(thickToThin)
  const spans = lineSpans(scenario, outcome.summary.spans)
  expect(spans).toHaveLength(outcome.summary.spans.length)
  for (const { worst, tension } of spans) {
    // misalignment goes with force^0.75 x thickness^-0.25: thin film gives way in its plane too
    expect(worst).toMatchObject({ film: 'A', tension: tension.min })
    const { setting } = worst?.assessment ?? {}
    if (setting === undefined) throw new Error('no setting')
    const thin = assess({ ...setting, thickness: 25e-6, modulus: 4.6e9 })
    expect(thin.flatUpTo).toBeGreaterThan(assess(setting).flatUpTo)
  }
})

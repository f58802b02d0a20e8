/** What a line that is being built lacks, and that what is offered mends it: the line then runs to its end. */
import { expect, test } from 'vitest'
import { added, entriesOf, wordAt } from '../../src/app/build/line'
import { missingIn } from '../../src/app/build/missing'
import { partsToAdd, suited } from '../../src/app/build/starting'
import { templates } from '../../src/app/build/templates'
import { zonesOf } from '../../src/app/build/zones'
import { listAt, withValue, type Json } from '../../src/app/state/document'
import type { Summary } from '../../src/run/summary'
import { prepare } from '../../src/run/prepare'
import { readDocument } from '../../src/scenario/read'

const template = (name: string): Json => templates.find(({ key }) => key.endsWith(name))?.document ?? null
const dancer = partsToAdd.find(({ label }) => label === 'Dancer')?.part ?? {}

function endOf(document: Json): Summary | string {
  const run = prepare(document)
  if (!('step' in run)) return run.outcome === 'failed' ? run.say : run.problems.map(({ say }) => say).join(' ')
  let outcome = run.step()
  while (!outcome) outcome = run.step()
  return outcome.outcome === 'finished' ? outcome.summary : JSON.stringify(outcome)
}

const placeOf = (document: Json, name: string) => entriesOf(document).find((one) => one.name === name)?.place ?? -1

/** With what is offered first, until nothing is missing. */
function mended(document: Json): Json {
  let now = document
  for (let tries = 0; tries < 6; tries++) {
    const [finding] = missingIn(now)
    if (!finding) return now
    const [mend] = finding.mends
    if (!mend) throw new Error(`nothing mends: ${finding.say}`)
    expect(readDocument(mend.document).ok).toBe(true)
    now = mend.document
  }
  throw new Error(`still missing: ${missingIn(now)[0]?.say ?? ''}`)
}

test('the templates lack nothing', () => {
  expect(templates.flatMap(({ document }) => missingIn(document))).toEqual([])
})

test('stretches between drives, and what holds the tension in each', () => {
  const zones = zonesOf(template('coating-line')).map(({ from, to, holders }) => [
    from.name,
    to.name,
    ...holders.map(({ what, name }) => `${what} ${name}`),
  ])
  expect(zones).toEqual([
    ['unwind', 'coating nip', 'load cell idler 2'],
    ['coating nip', 'chill roller'],
    ['chill roller', 'rewind', 'drive rewind'],
  ])
})

const places = templates.flatMap(({ key, document }) =>
  zonesOf(document).map(({ from }) => [key.replace('template ', ''), from.name, document] as const),
)

test.each(places)(
  '%s: a dancer behind %s runs to the end once what is missing has been mended',
  (_, name, document) => {
    const with60 = suited(dancer, { tension: 60, turn: 'left' })
    const line = added(document, placeOf(document, name), with60).document
    expect(missingIn(line).length).toBeGreaterThan(0)
    const end = endOf(mended(line))
    if (typeof end === 'string') throw new Error(end)
    expect(end.dancers.every(({ stopSeconds }) => stopSeconds === 0)).toBe(true)
  },
)

test('two that hold the same tension are told of, and really find no state to start from', () => {
  const line = added(template('print-line'), placeOf(template('print-line'), 'idler 1'), dancer).document
  const [finding] = missingIn(line)
  expect(finding?.say).toBe(
    'Between unwind and print nip dancer and infeed dancer each hold the tension: they pull against each other, and the run finds no state to start from. Leave one of them.',
  )
  expect(endOf(line)).toMatch(/^The line has no steady state/)
})

test('a dancer whose neighbours all follow torque or are trimmed is told what to change', () => {
  const index = template('index-line')
  const controls = listAt(index, 'control')
  const without = withValue(
    index,
    ['control'],
    controls.map((one) =>
      wordAt(one, 'measures') === 'outfeed dancer' ? withValue(one, ['drives'], 'index nip') : one,
    ),
  )
  // the pull nip is the only neighbour left, and it is taken by another dancer far away
  const taken = withValue(
    without,
    ['control'],
    listAt(without, 'control').map((one) =>
      wordAt(one, 'measures') === 'infeed dancer' ? withValue(one, ['drives'], 'pull nip') : one,
    ),
  )
  const bare = withValue(
    taken,
    ['control'],
    listAt(taken, 'control').filter((one) => wordAt(one, 'measures') !== 'outfeed dancer'),
  )
  const found = missingIn(bare).map(({ say, mends }) => [say.slice(0, 26), mends.map(({ label }) => label)])
  expect(found).toEqual([['outfeed dancer has no trim', ['Let it trim index nip']]])
})

test('a new dancer carries the tension that the film has there: two strands of it, less its weight', () => {
  const part = suited(dancer, { tension: 60, turn: 'right' })
  expect(part['turn']).toBe('right')
  // 2 x 60 N - 4 kg x 9.80665 m/s^2
  expect(part['force']).toBe('80.8 N')
  expect(suited(dancer, { tension: undefined, turn: 'left' })['force']).toBe(dancer['force'])
  const arm = partsToAdd.find(({ label }) => label === 'Dancer on a swing arm')?.part ?? {}
  expect(suited(arm, { tension: 60, turn: 'left' })['force']).toBe('120 N')
})

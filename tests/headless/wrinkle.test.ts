import { expect, test } from 'vitest'
import { readArguments, type PlainCommand } from '../../src/headless/arguments'
import { wrinkleCommand } from '../../src/headless/wrinkle'
import { FakeSurroundings, shortLine } from './line'

const command: PlainCommand = { command: 'wrinkle', file: 'line.json', sets: [], json: false }

test('what is typed', () => {
  expect(readArguments(['wrinkle', 'a.json'])).toEqual({ command: 'wrinkle', file: 'a.json', sets: [], json: false })
  expect(readArguments(['wrinkle', 'a.json', '--json', '--set', 'run/for=1 s'])).toMatchObject({
    json: true,
    sets: [{ path: 'run/for', value: '1 s' }],
  })
  for (const args of [
    ['wrinkle'],
    ['wrinkle', 'a', 'b'],
    ['wrinkle', 'a', '--strict'],
    ['wrinkle', 'a', '--csv', 'x'],
  ]) {
    expect(readArguments(args)).toMatchObject({ command: 'wrong' })
  }
})

test('a table, worst first, and what the erector must reach', () => {
  const around = new FakeSurroundings()
  expect(wrinkleCommand(command, around)).toBe(0)
  expect(around.complaints).toEqual([])
  const text = around.printed.join('\n')
  expect(text).toMatch(/^Align every roller to 0\.\d+ mm\/m or better: .+ asks for it\.$/m)
  expect(text).toMatch(/^span +least N +greatest N +flat up to +troughs may begin/m)
  expect(around.printed.filter((line) => line.includes('→'))).toHaveLength(1 + 3)
  // the fold of such film lies far beyond the slack edge, and is marked for it
  for (const line of around.printed.filter((one) => one.includes('→')).slice(1))
    expect(line).toMatch(/ \d+(\.\d+)?\* +\d/)
  expect(text).toContain('Compression by neck-in')
  expect(text).not.toMatch(/NaN|undefined|Infinity/)
})

test('one object in SI, with figures changed on the way', () => {
  const read = (sets: PlainCommand['sets']) => {
    const around = new FakeSurroundings()
    expect(wrinkleCommand({ ...command, json: true, sets }, around)).toBe(0)
    return JSON.parse(around.printed.join('\n')) as {
      title: string
      spans: { name: string; slack: boolean; troughs: { critical: { peak: number; mean: number } } }[]
    }
  }
  const before = read([])
  expect(before.title).toBe(shortLine.title)
  expect(before.spans).toHaveLength(3)
  const peaks = before.spans.map(({ troughs }) => troughs.critical.peak)
  expect(peaks).toEqual(peaks.toSorted((a, b) => a - b))
  // a stiffer film forgives less
  const after = read([{ path: 'films/A/modulus', value: '9 GPa' }])
  expect(after.spans[0].troughs.critical.peak).toBeLessThan(0.8 * peaks[0])
})

test('a bad file is refused by field, a missing one is wrong usage', () => {
  const around = new FakeSurroundings(JSON.stringify({ ...shortLine, title: 5 }))
  expect(wrinkleCommand(command, around)).toBe(2)
  expect(around.complaints.join()).toContain('title')
  expect(around.printed).toEqual([])
  const broken = new FakeSurroundings('{')
  expect(wrinkleCommand(command, broken)).toBe(2)
  expect(broken.complaints).toHaveLength(1)
  for (const [text, sets] of [
    [JSON.stringify({ ...shortLine, title: 5 }), []],
    [JSON.stringify(shortLine), [{ path: 'films/A/none', value: '1' }]],
  ] as const) {
    const asked = new FakeSurroundings(text)
    expect(wrinkleCommand({ ...command, json: true, sets }, asked)).toBe(2)
    const told = JSON.parse(asked.printed.join('\n')) as { outcome: string; problems: { say: string }[] }
    expect(told.outcome).toBe('refused')
    expect(told.problems.map(({ say }) => say)).toEqual(asked.complaints)
  }
  expect(wrinkleCommand({ ...command, file: 'none.json' }, new FakeSurroundings())).toBe(4)
})

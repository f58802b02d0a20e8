import { expect, test } from 'vitest'
import { runCommand } from '../../src/headless/run'
import { sweepCommand } from '../../src/headless/sweep'
import { readShare, readVary, type SweepCommand } from '../../src/headless/sweep-arguments'
import { readArguments } from '../../src/headless/arguments'
import { FakeSurroundings, plainRun, shortLine } from './line'

const mass = 'line/infeed dancer/mass'
const plain: SweepCommand = {
  command: 'sweep',
  file: 'line.json',
  vary: [{ path: mass, from: '2 kg', to: '6 kg', count: 3 }],
  sets: [],
  share: { number: 1, of: 1 },
  json: true,
  csv: undefined,
}

interface Printed {
  readonly cases: readonly {
    readonly case: number
    readonly values: readonly string[]
    readonly outcome: string
    readonly figures: Readonly<Record<string, number>>
  }[]
}

function swept(command: Partial<SweepCommand>, around = new FakeSurroundings()): Printed['cases'] {
  expect(sweepCommand({ ...plain, ...command }, around)).toBe(0)
  return (JSON.parse(around.printed.join('\n')) as Printed).cases
}

test('each case has the figures that a single run with that value has', () => {
  const cases = swept({})
  expect(cases.map(({ values }) => values)).toEqual([['2 kg'], ['4 kg'], ['6 kg']])
  for (const { values, figures } of cases) {
    const around = new FakeSurroundings()
    runCommand({ ...plainRun, json: true, sets: [{ path: mass, value: values[0] }] }, around)
    const { spans } = JSON.parse(around.printed.join('\n')) as {
      spans: { name: string; tension: { min: number; max: number } }[]
    }
    expect(figures['greatest tension']).toBe(Math.max(...spans.map(({ tension }) => tension.max)))
    expect(figures[`least tension/${spans[1].name}`]).toBe(spans[1].tension.min)
  }
  expect(cases[0].figures['greatest tension']).not.toBe(cases[2].figures['greatest tension'])
})

test('several variations give every combination, the last changing fastest; the shares together are all of them', () => {
  const vary = [
    { path: mass, from: '2', to: '4 kg', count: 2 },
    { path: 'films/A/poisson', from: '0.3', to: '0.4', count: 3 },
  ]
  const all = swept({ vary })
  expect(all.map(({ values }) => values.join(' '))).toEqual([
    '2 kg 0.3',
    '2 kg 0.35',
    '2 kg 0.4',
    '4 kg 0.3',
    '4 kg 0.35',
    '4 kg 0.4',
  ])
  const shares = [1, 2, 3, 4].flatMap((number) => swept({ vary, share: { number, of: 4 } }))
  expect(shares.sort((a, b) => a.case - b.case)).toEqual(all)
})

test('a table for people: varied fields, figures with units, one row a case', () => {
  const around = new FakeSurroundings()
  expect(sweepCommand({ ...plain, json: false }, around)).toBe(0)
  const [head, ...rows] = around.printed
  expect(head).toContain(mass)
  expect(head).toContain('greatest tension N')
  expect(head).toContain('infeed dancer: travel used %')
  expect(rows.filter((row) => / kg /.test(row))).toHaveLength(3)
})

test('a file of all figures, in SI', () => {
  const around = new FakeSurroundings()
  sweepCommand({ ...plain, csv: 'out.csv' }, around)
  const [head = '', ...rows] = (around.files.get('out.csv') ?? '').trim().split('\n')
  expect(head.startsWith(`case,${mass},outcome,share of elastic limit (1),`)).toBe(true)
  expect(rows).toHaveLength(3)
  expect(rows.every((row) => row.split(',').length === head.split(',').length)).toBe(true)
})

const refusals: readonly [string, SweepCommand['vary'][number], readonly string[]][] = [
  ['a path that leads nowhere', { path: 'line/infeed dancr/mass', from: '2', to: '4 kg', count: 2 }, ['infeed dancer']],
  ['a value that does not fit', { path: mass, from: '2 N', to: '4 kg', count: 2 }, [mass, '"2 N"', 'a mass']],
  ['an end out of bounds', { path: mass, from: '4 kg', to: '-4 kg', count: 3 }, [mass, 'with 0 kg']],
  ['words', { path: 'control/0/kind', from: 'speed', to: 'ratio', count: 2 }, ['control/0/kind', 'words']],
  ['a group of fields', { path: 'films/A', from: '1', to: '2', count: 2 }, ['films/A', 'group of fields']],
  ['numbers with a unit', { path: 'films/A/poisson', from: '0.3 m', to: '0.4 m', count: 2 }, ['without a unit']],
  ['too many cases', { path: mass, from: '2 kg', to: '4 kg', count: 10_001 }, ['10001 cases', '10000']],
]

test.each(refusals)('refused before anything runs: %s', (_, ends, words) => {
  const around = new FakeSurroundings()
  expect(sweepCommand({ ...plain, vary: [ends] }, around)).toBe(2)
  expect(around.printed).toEqual([])
  for (const word of words) expect(around.complaints.join('\n')).toContain(word)
})

test('a scenario that cannot be read as it stands is refused for itself', () => {
  const around = new FakeSurroundings(JSON.stringify({ ...shortLine, limits: { leastTension: 20 } }))
  expect(sweepCommand(plain, around)).toBe(2)
  expect(around.complaints[0]).toMatch(/^limits\/leastTension/)
})

test('a combination that is refused is a row, and the exit code tells', () => {
  const around = new FakeSurroundings()
  const vary = [
    { path: 'line/infeed dancer/upperStop', from: '10 mm', to: '90 mm', count: 2 },
    { path: 'line/infeed dancer/setPoint', from: '0 mm', to: '50 mm', count: 2 },
  ]
  expect(sweepCommand({ ...plain, vary }, around)).toBe(2)
  const { cases } = JSON.parse(around.printed.join('\n')) as Printed
  expect(cases.map(({ outcome }) => outcome)).toEqual(['finished', 'refused', 'finished', 'finished'])
  expect(around.complaints).toHaveLength(1)
  expect(around.complaints[0]).toContain('Case 2')
})

test('what is typed after --vary and --share', () => {
  expect(readVary('line/nip 1/diameter=80 mm..120 mm/5')).toEqual({
    path: 'line/nip 1/diameter',
    from: '80 mm',
    to: '120 mm',
    count: 5,
  })
  expect(readVary('speed/start=20 m/min..30 m/min/3')).toMatchObject({ from: '20 m/min', to: '30 m/min', count: 3 })
  expect(readVary('a=-0.5..+.5/2')).toMatchObject({ from: '-0.5', to: '+.5' })
  for (const bad of ['', 'a', 'a=1', 'a=1..2', 'a=1..2/0', '=1..2/3', 'a=..2/3', 'a=1../3']) {
    expect(readVary(bad)).toBeUndefined()
  }
  expect(readShare('2/3')).toEqual({ number: 2, of: 3 })
  for (const bad of ['0/3', '4/3', '1', 'a/b', '1/0']) expect(readShare(bad)).toBeUndefined()
})

const wrong: readonly [string, readonly string[], string][] = [
  ['nothing to vary', ['sweep', 'a'], 'at least one --vary'],
  ['no file', ['sweep', '--vary', 'a=1..2/3'], 'needs a FILE'],
  ['a variation that is none', ['sweep', 'a', '--vary', 'run/for=3 s'], 'found "run/for=3 s"'],
  ['a share that is none', ['sweep', 'a', '--vary', 'a=1..2/3', '--share', '4/3'], 'found "4/3"'],
  ['an option of run', ['sweep', 'a', '--vary', 'a=1..2/3', '--strict'], 'belong to run'],
  ['an option of sweep given to run', ['run', 'a', '--share', '1/2'], 'belong to sweep'],
]

test.each(wrong)('wrong usage: %s', (_, args, words) => {
  const command = readArguments(args)
  if (command.command !== 'wrong') throw new Error(`taken as ${command.command}`)
  expect(command.say).toContain(words)
})

test('typed whole', () => {
  const args = ['sweep', '-', '--vary', `${mass}=2..6 kg/3`, '--set=run/for=1 s', '--share', '1/2', '--csv', 'o.csv']
  expect(readArguments(args)).toEqual({
    command: 'sweep',
    file: '-',
    vary: [{ path: mass, from: '2', to: '6 kg', count: 3 }],
    sets: [{ path: 'run/for', value: '1 s' }],
    share: { number: 1, of: 2 },
    json: false,
    csv: 'o.csv',
  })
})

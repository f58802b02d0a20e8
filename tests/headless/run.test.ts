import { expect, test } from 'vitest'
import { runCommand } from '../../src/headless/run'
import { FakeSurroundings, plainRun, shortLine } from './line'

function objectFrom(around: FakeSurroundings): Record<string, unknown> {
  expect(around.printed).toHaveLength(1)
  return JSON.parse(around.printed[0]) as Record<string, unknown>
}

test('a finished run prints its title, sentences and figures with their units', () => {
  const around = new FakeSurroundings()
  expect(runCommand(plainRun, around)).toBe(0)
  const text = around.printed.join('\n')
  expect(text).toContain('Tag base from roll to roll')
  expect(text).toContain('The film stays inside its limits.')
  expect(text).toMatch(/^span +start N +end N/m)
  expect(text).toMatch(/^unwind → idler 1 +\d/m)
  expect(text).toMatch(/^infeed dancer +/m)
  expect(text).not.toContain('Computing time')
  expect(around.complaints).toEqual([])
})

test('--json prints one object in SI units, in this order', () => {
  const around = new FakeSurroundings()
  expect(runCommand({ ...plainRun, json: true }, around)).toBe(0)
  const object = objectFrom(around)
  const keys = ['title', 'outcome', 'spans', 'dancers', 'rollers', 'drives', 'film', 'happenings', 'solver']
  expect(Object.keys(object)).toEqual(keys)
  expect(object).toMatchObject({ title: 'Tag base from roll to roll', outcome: 'finished' })
  const [span] = object['spans'] as { name: string; tension: Record<string, number> }[]
  expect(span.name).toBe('unwind → idler 1')
  expect(Object.keys(span.tension).sort()).toEqual(['atMax', 'atMin', 'end', 'max', 'min', 'start'])
  const { unwound } = object['film'] as { unwound: number }
  expect(unwound).toBeGreaterThan(0.1)
  expect(unwound).toBeLessThan(0.3)
})

test('equal runs print equal text; the computing time only when asked for', () => {
  const [first, second, timed] = [new FakeSurroundings(), new FakeSurroundings(), new FakeSurroundings()]
  runCommand({ ...plainRun, json: true }, first)
  runCommand({ ...plainRun, json: true }, second)
  runCommand({ ...plainRun, json: true, timing: true }, timed)
  expect(second.printed).toEqual(first.printed)
  const { wallMs, ...rest } = objectFrom(timed)
  expect(wallMs).toBe(12.3)
  expect(rest).toEqual(objectFrom(first))
})

test('--timing adds a line to the text', () => {
  const around = new FakeSurroundings()
  runCommand({ ...plainRun, timing: true }, around)
  expect(around.printed.at(-1)).toBe('Computing time: 12.3 ms.')
})

test('--set changes the scenario before it runs', () => {
  const around = new FakeSurroundings()
  const sets = [
    { path: 'title', value: 'Heavier' },
    { path: 'run/for', value: '0.2 s' },
  ]
  expect(runCommand({ ...plainRun, json: true, sets }, around)).toBe(0)
  const object = objectFrom(around)
  expect(object['title']).toBe('Heavier')
  expect(object['film']).toHaveProperty('unwound', expect.closeTo((0.2 * 20) / 60, 2))
})

test('a scenario that does not fit is refused, one line for each field', () => {
  const around = new FakeSurroundings(
    JSON.stringify({ ...shortLine, run: { for: '3 kg', tick: '10 ms', speed: 1 }, limits: { leastTension: 20 } }),
  )
  expect(runCommand(plainRun, around)).toBe(2)
  expect(around.printed).toEqual([])
  expect(around.complaints.length).toBeGreaterThanOrEqual(2)
  expect(around.complaints.some((line) => line.startsWith('run/for: found "3 kg", expected a time'))).toBe(true)
  expect(around.complaints.some((line) => line.startsWith('limits/leastTension:'))).toBe(true)
  expect(around.complaints.every((line) => !line.includes('\n'))).toBe(true)
})

test('a refusal as an object, on request', () => {
  const around = new FakeSurroundings('{ "spanwright": 1')
  expect(runCommand({ ...plainRun, json: true }, around)).toBe(2)
  expect(objectFrom(around)).toMatchObject({ outcome: 'refused' })
  expect(around.complaints).toHaveLength(1)
})

test('every path that leads nowhere is told, and nothing runs', () => {
  const around = new FakeSurroundings()
  const sets = [
    { path: 'line/infeed dancr/mass', value: '6 kg' },
    { path: 'run/fro', value: '1 s' },
  ]
  expect(runCommand({ ...plainRun, sets }, around)).toBe(2)
  expect(around.complaints).toHaveLength(2)
  expect(around.complaints[0]).toContain('infeed dancer')
  expect(around.complaints[1]).toContain('run/fro')
})

test('a set value that does not fit is refused by field', () => {
  const around = new FakeSurroundings()
  const sets = [{ path: 'line/infeed dancer/mass', value: '6 N' }]
  expect(runCommand({ ...plainRun, sets }, around)).toBe(2)
  expect(around.complaints[0]).toContain('line/4 infeed dancer/mass: found "6 N"')
})

test('--strict turns a broken limit into exit code 1, and nothing else', () => {
  const sets = [{ path: 'limits/leastTension', value: '500 N' }]
  expect(runCommand({ ...plainRun, sets }, new FakeSurroundings())).toBe(0)
  expect(runCommand({ ...plainRun, sets, strict: true }, new FakeSurroundings())).toBe(1)
  expect(runCommand({ ...plainRun, strict: true }, new FakeSurroundings())).toBe(0)
})

test('a run that breaks off says when, where and what to try', () => {
  const around = new FakeSurroundings()
  const failed = { outcome: 'failed', at: 1.5, state: 'speed of idler 1', say: 'Look there.' } as const
  expect(runCommand({ ...plainRun, json: true }, around, () => failed)).toBe(3)
  expect(around.complaints).toEqual(['Broke off at 1.5 s (speed of idler 1): Look there.'])
  expect(objectFrom(around)).toEqual(failed)
})

test('--csv writes every sample to the end', () => {
  const around = new FakeSurroundings()
  expect(runCommand({ ...plainRun, csv: 'out.csv' }, around)).toBe(0)
  const [head, ...lines] = (around.files.get('out.csv') ?? '').trimEnd().split('\n')
  expect(head).toMatch(/^time \(s\),tension\/unwind to idler 1 \(N\),/)
  expect(lines.length).toBeGreaterThanOrEqual(51)
  const width = head.split(',').length
  expect(lines.every((line) => line.split(',').length === width)).toBe(true)
  expect(lines[0]).toMatch(/^0,/)
  expect(lines.at(-1)).toMatch(/^0\.5,/)
  expect(around.closed).toEqual(['out.csv'])
  expect(around.printed.at(-1)).toBe('Samples are in out.csv.')
})

test('a refused scenario leaves an older file alone', () => {
  const around = new FakeSurroundings('{}')
  around.files.set('out.csv', 'older')
  expect(runCommand({ ...plainRun, csv: 'out.csv' }, around)).toBe(2)
  expect(around.files.get('out.csv')).toBe('older')
})

test('a file that cannot be read or written is wrong usage, said in words', () => {
  const missing = new FakeSurroundings()
  expect(runCommand({ ...plainRun, file: 'nowhere.json' }, missing)).toBe(4)
  expect(missing.complaints).toEqual(['nowhere.json cannot be read: no such file'])
  const locked = new FakeSurroundings()
  locked.write = () => {
    throw new Error('permission denied')
  }
  expect(runCommand({ ...plainRun, csv: 'out.csv' }, locked)).toBe(4)
  expect(locked.complaints).toEqual(['out.csv cannot be written: permission denied'])
})

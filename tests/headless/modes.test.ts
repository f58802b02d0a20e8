import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { readArguments } from '../../src/headless/arguments'
import { modesCommand } from '../../src/headless/modes'

interface Told {
  readonly code: number
  readonly printed: string
  readonly complained: string
}

function tell(file: string, { json = false, sets = [] as { path: string; value: string }[] } = {}): Told {
  const [out, err]: string[][] = [[], []]
  const code = modesCommand(
    { command: 'modes', file, json, sets },
    {
      read: (name) => readFileSync(name, 'utf8'),
      write: () => ({ append: () => undefined, close: () => undefined }),
      print: (line) => out.push(line),
      complain: (line) => err.push(line),
      now: () => 0,
    },
  )
  return { code, printed: out.join('\n'), complained: err.join('\n') }
}

const FILE = 'scenarios/start-stop.json'

describe('modes FILE', () => {
  test('a table, a sentence for each mode, the fastest pole, margins of the loops, what was left out', () => {
    const { code, printed } = tell(FILE)
    expect(code).toBe(0)
    expect(printed).toContain('infeed dancer')
    expect(printed).toContain('on held film')
    expect(printed).toMatch(/swings at \S+ Hz, damped to \S+ % of critical/)
    expect(printed).toMatch(/Fastest decay \S+ 1\/s/)
    expect(printed).toMatch(/position trim of unwind \(measures infeed dancer\): phase margin \S+ deg/)
    expect(printed).toMatch(
      /Worst from core to full and over line speed: phase margin \S+ deg with a (roll|line speed) of/,
    )
    expect(printed).toContain('Dry friction of infeed dancer and winding dancer is left out')
  })

  test('--json: one object with every mode, dancer and margin, twice the same', () => {
    const { code, printed } = tell(FILE, { json: true })
    expect(code).toBe(0)
    const found = JSON.parse(printed) as Record<string, unknown>
    expect(found).toMatchObject({ outcome: 'found', stable: true })
    expect(Object.keys(found)).toEqual(
      expect.arrayContaining(['title', 'modes', 'dancers', 'fastest', 'loops', 'notes', 'point']),
    )
    expect((found['modes'] as { frequency: number }[]).length).toBeGreaterThan(10)
    expect((found['loops'] as { outcome: string }[]).map((l) => l.outcome)).toEqual(['found', 'found'])
    // the worst is no better than what is
    const margin = (m: unknown) => (m as { phaseMargin: { value: number } }).phaseMargin.value
    for (const loop of found['loops'] as { margins: unknown; worst: { margins: unknown } }[]) {
      expect(margin(loop.worst.margins)).toBeLessThanOrEqual(margin(loop.margins) + 1e-9)
    }
    expect(printed).toBe(tell(FILE, { json: true }).printed)
  })

  test('a changed field counts', () => {
    const sets = [{ path: 'line/infeed dancer/mass', value: '12 kg' }]
    expect(tell(FILE, { sets }).printed).not.toBe(tell(FILE).printed)
  })

  test('what cannot be read is refused by field; a file that is not there; no steady state', () => {
    expect(tell(FILE, { sets: [{ path: 'line/infeed dancer/mass', value: '-1 kg' }] })).toMatchObject({
      code: 2,
      printed: '',
    })
    expect(tell('scenarios/none.json')).toMatchObject({ code: 4 })
    const { code, complained } = tell(FILE, { sets: [{ path: 'line/infeed dancer/force', value: '-500 N' }] })
    expect(code).toBe(3)
    expect(complained.length).toBeGreaterThan(30)
  })

  test('what it takes', () => {
    expect(readArguments(['modes', 'a.json', '--json', '--set', 'a/b=1'])).toEqual({
      ...{ command: 'modes', file: 'a.json', json: true },
      sets: [{ path: 'a/b', value: '1' }],
    })
    expect(readArguments(['modes'])).toMatchObject({ command: 'wrong' })
    expect(readArguments(['modes', 'a.json', '--strict'])).toMatchObject({ command: 'wrong' })
    expect(readArguments(['modes', 'a.json', '--csv', 'x.csv'])).toMatchObject({ command: 'wrong' })
  })
})

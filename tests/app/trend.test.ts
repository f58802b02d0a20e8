/** Recorded trends: tables as machines write them, their times, and how far they lie from what was computed. */
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { clockIn, numberIn } from '../../src/app/trend/cells'
import { readFile } from '../../src/app/trend/file'
import { strokeOf } from '../../src/app/trend/laid'
import { differenceOf, guessChannel, recordingOf, unitsFor } from '../../src/app/trend/recording'
import { limits, TableReader, type Table } from '../../src/app/trend/table'
import { guessTime, timesOf } from '../../src/app/trend/times'
import type { Channel } from '../../src/run/record'

function tableOf(text: string, piece = text.length): Table {
  const reader = new TableReader()
  for (let from = 0; from < text.length; from += piece) reader.feed(text.slice(from, from + piece))
  const tabled = reader.end()
  if (!tabled.ok) throw new Error(tabled.say)
  return tabled.table
}

function refusalOf(text: string): string {
  const reader = new TableReader()
  reader.feed(text)
  const tabled = reader.end()
  return tabled.ok ? 'taken' : tabled.say
}

const messy = [
  'Trend export;;;',
  'Recorder 3;02.03.2026;;',
  'Time;Tension infeed [N];Dancer;Speed (m/min);Remark',
  '14:05:07,000;61,5;-12,25;6,0;start',
  '14:05:07,100;;-12,5;6,0;',
  '14:05:07,200;---;-13;6,0;',
  'broken line',
  '14:05:07,300;1.061,25;-13,125;6,0;;',
  '',
].join('\r\n')

describe('a messy table', () => {
  test('semicolons, decimal commas, a preamble, gaps, thousands, units in the head and a broken line', () => {
    const { format, columns, rows, passedOver } = tableOf(messy)
    expect(format).toMatchObject({ delimiter: ';', decimal: ',' })
    expect(columns.map(({ title, unit, type }) => [title, unit, type])).toEqual([
      ['Time', '', 'clock'],
      ['Tension infeed', 'N', 'number'],
      ['Dancer', '', 'number'],
      ['Speed', 'm/min', 'number'],
      ['Remark', '', 'text'],
    ])
    expect([...(columns[1]?.values ?? [])]).toEqual([61.5, NaN, NaN, 1061.25])
    expect([...(columns[2]?.values ?? [])]).toEqual([-12.25, -12.5, -13, -13.125])
    expect([rows, passedOver]).toEqual([4, 1])
  })

  test('in pieces of any length it reads the same', () => {
    const whole = tableOf(messy)
    fc.assert(
      fc.property(fc.integer({ min: 1, max: messy.length }), (piece) => {
        expect(tableOf(messy, piece)).toEqual(whole)
      }),
    )
  })

  test('a row of units below the titles', () => {
    const { columns } = tableOf('zeit\tF1\tpos\nms\tN\tmm\n0\t1.5\t2\n10\t1.6\t3\n20\t1.7\t4\n')
    expect(columns.map(({ title, unit }) => [title, unit])).toEqual([
      ['zeit', 'ms'],
      ['F1', 'N'],
      ['pos', 'mm'],
    ])
  })

  test('delimiters within quotes belong to the cell', () => {
    const { columns } = tableOf('"time, of run",tension\n0,"1,000.5"\n1,2\n2,"3"\n')
    expect(columns.map(({ title }) => title)).toEqual(['time, of run', 'tension'])
    expect([...(columns[1]?.values ?? [])]).toEqual([1000.5, 2, 3])
  })

  test('a column alone is a table too', () => {
    expect(tableOf('tension [N]\n1\n2\n3\n').columns.map(({ unit, values }) => [unit, values.length])).toEqual([
      ['N', 3],
    ])
  })

  test('cells that spreadsheets would take for formulas are read as nothing', () => {
    const { columns } = tableOf('t,a\n0,=1+1\n1,@SUM(A1)\n2,+cmd\n3,4\n4,5\n5,6\n6,7\n7,8\n8,9\n')
    expect(columns[1]?.unread).toBe(3)
    expect([...(columns[1]?.values ?? [])].slice(0, 4)).toEqual([NaN, NaN, NaN, 4])
  })
})

test('what a person says of the writing counts more than what it looks like', () => {
  const reader = new TableReader({ delimiter: ';', decimal: '.' })
  reader.feed('t;a\n0;1,500\n1;2,500\n')
  const tabled = reader.end()
  expect(tabled.ok && [...(tabled.table.columns[1]?.values ?? [])]).toEqual([1500, 2500])
})

test.each([
  ['', 'no rows of values'],
  ['a;b\nc;d\n', 'no rows of values'],
  ['x'.repeat(limits.line + 1), 'lines without end'],
  [`${'1,'.repeat(limits.columns + 5)}1\n`, `at most ${limits.columns} are read`],
])('%.20s is refused in words', (text, says) => {
  expect(refusalOf(text)).toContain(says)
})

test('more rows than are read are refused before they fill the memory', () => {
  const reader = new TableReader()
  const piece = '1;2\n'.repeat(100_000)
  let taken = 0
  while (reader.feed(piece)) taken++
  const tabled = reader.end()
  expect(taken).toBe(limits.rows / 100_000)
  expect(tabled.ok ? '' : tabled.say).toContain('more than 2 million rows')
})

test('letters of an older system, and UTF-16, are read', async () => {
  const bytes = (text: string) => Uint8Array.from(text, (letter) => letter.charCodeAt(0))
  const wide = (text: string) => new Uint8Array([0xff, 0xfe, ...[...bytes(text)].flatMap((letter) => [letter, 0])])
  const text = 'Zeit;Länge [mm]\n0;1,5\n1;2,5\n'
  for (const file of [bytes(text), wide(text)]) {
    const tabled = await readFile(new Blob([file]), { progress: () => true })
    expect(tabled?.ok === true ? tabled.table.columns[1]?.title : '').toBe('Länge')
  }
})

test('numbers in either writing come back as they were', () => {
  const tenths = fc.integer({ min: -10_000_000, max: 10_000_000 }).map((whole) => whole / 100)
  fc.assert(
    fc.property(
      tenths,
      fc.constantFrom<readonly ['.' | ',', string]>(['.', 'en-GB'], [',', 'de-DE']),
      (value, [decimal, locale]) => {
        expect(numberIn(value.toLocaleString(locale, { maximumFractionDigits: 2 }), decimal)).toBe(value)
        expect(numberIn(String(value).replace('.', decimal), decimal)).toBe(value)
      },
    ),
  )
})

test.each([
  ['02.03.2026', ','],
  ['12:30', '.'],
  ['1.2.3', '.'],
  ['1e999', '.'],
  ['', '.'],
  [' ', '.'],
  ['.', '.'],
  ['0x10', '.'],
] as const)('%s is no number', (text, decimal) => {
  expect(numberIn(text, decimal)).toBeNaN()
})

test('clock times alone and behind a date; seconds since midnight', () => {
  expect(clockIn('14:05:07,250')).toBeCloseTo(50707.25, 9)
  expect(clockIn('2026-03-02T14:05:07.5Z')).toBeCloseTo(50707.5, 9)
  expect(clockIn('02.03.2026 00:00:01')).toBe(1)
  expect(clockIn('25:00:00')).toBeNaN()
  expect(clockIn('1.5')).toBeNaN()
})

describe('times', () => {
  test('a clock goes on over midnight, and coarse seconds are spread', () => {
    const table = tableOf('clock;a\n23:59:58;1\n23:59:58;1\n23:59:59;1\n23:59:59;1\n00:00:00;1\n00:00:00;1\n')
    const base = guessTime(table)
    expect(base).toEqual({ by: 'column', column: 0, unit: 's' })
    expect(base && [...timesOf(table, base).time]).toEqual([0, 0.5, 1, 1.5, 2, 2.5])
  })

  test('by title, in its unit, from zero; rows that go back are lost', () => {
    const rows = Array.from({ length: 300 }, (_, i) => `${1000 + i * 20},${i}`)
    rows[150] = '5,0'
    const table = tableOf(`time (ms),a\n${rows.join('\n')}\n`)
    const base = guessTime(table)
    const times = base && timesOf(table, base)
    expect(base).toMatchObject({ column: 0, unit: 'ms' })
    expect(times?.time[299]).toBeCloseTo(5.98, 12)
    expect(times?.lost).toBe(1)
  })

  test('none that rises: it has to be asked; then rows lie evenly apart', () => {
    const table = tableOf('a;b\n3;1\n2;5\n4;2\n1;2\n')
    expect(guessTime(table)).toBeUndefined()
    expect([...timesOf(table, { by: 'step', step: 0.5 }).time]).toEqual([0, 0.5, 1, 1.5])
  })
})

const channel = (key: string, kind: Channel['kind']): Channel => {
  const [group = '', name = ''] = key.split('/')
  return { key, group: group as Channel['group'], name, kind, place: 0 }
}
const channels = [
  channel('tension/idler 1 → idler 2', 'force'),
  channel('tension/idler 2 → dancer', 'force'),
  channel('speed/idler 1', 'speed'),
  channel('dancer/dancer', 'travel'),
]

test('a column goes to the channel that its title names, where the unit allows', () => {
  expect(guessChannel('tension/idler 1 to idler 2', 'N', channels)?.key).toBe('tension/idler 1 → idler 2')
  expect(guessChannel('Dancer', 'mm', channels)?.key).toBe('dancer/dancer')
  expect(guessChannel('Idler 1', 'm/min', channels)?.key).toBe('speed/idler 1')
  expect(guessChannel('Idler 1', 'kg', channels)).toBeUndefined()
  expect(guessChannel('temperature', '', channels)).toBeUndefined()
  expect(unitsFor('force', 'lbf')[0]).toBe('lbf')
})

describe('laid over a run', () => {
  const dancer = channel('dancer/dancer', 'travel')
  const table = tableOf('t;z [mm]\n0;10\n1;20\n2;\n3;40\n4;50\n')
  const recording = recordingOf('r', table, { by: 'column', column: 0, unit: 's' }, [
    { column: 1, channel: dancer, unit: 'mm' },
  ])
  const [lane] = recording.lanes

  test('in SI, shifted, with the pen lifted at the gap', () => {
    const stroke = lane && strokeOf(recording, 0.5, lane)
    expect([...(stroke?.time ?? [])]).toEqual([0.5, 1.5, 3.5, 4.5])
    expect([...(stroke?.values ?? [])]).toEqual([0.01, 0.02, 0.04, 0.05])
    expect(stroke?.lifts).toEqual([2])
  })

  test('a channel recorded at every third row has no gaps, and no sample is left alone', () => {
    const rows = Array.from({ length: 300 }, (_, i) => `${i};${i % 3 === 0 && (i < 100 || i > 200) ? i : ''};${i}`)
    const slow = tableOf(`t;z [mm];other\n${rows.join('\n')}\n`)
    const made = recordingOf('r', slow, { by: 'column', column: 0, unit: 's' }, [
      { column: 1, channel: dancer, unit: 'mm' },
    ])
    const stroke = made.lanes[0] && strokeOf(made, 0, made.lanes[0])
    expect(stroke?.values.length).toBe(67)
    expect(stroke?.lifts).toEqual([34])
    const alone = tableOf('t;z [mm]\n0;1\n1;2\n2;\n3;\n4;3\n5;\n6;\n7;4\n8;5\n')
    const few = recordingOf('r', alone, { by: 'column', column: 0, unit: 's' }, [
      { column: 1, channel: dancer, unit: 'mm' },
    ])
    const strokes = few.lanes[0] && strokeOf(few, 0, few.lanes[0])
    const pieces = [0, ...(strokes?.lifts ?? []), strokes?.values.length ?? 0]
    for (const [k, end] of pieces.slice(1).entries()) expect(end - (pieces[k] ?? 0)).toBeGreaterThan(1)
  })

  test('a recording of a straight line differs from it by nothing, and by its offset when raised', () => {
    const computed = { time: Float64Array.of(0, 2.5, 5), values: Float64Array.of(0.01, 0.035, 0.06), lifts: [] }
    const stroke = lane && strokeOf(recording, 0, lane)
    const difference = stroke && differenceOf(stroke, computed)
    expect(difference?.count).toBe(4)
    expect(difference?.rms).toBeLessThan(1e-15)
    const raised = { ...computed, values: computed.values.map((value) => value - 0.003) }
    const off = stroke && differenceOf(stroke, raised)
    expect(off?.rms).toBeCloseTo(0.003, 12)
    expect(off?.mean).toBeCloseTo(0.003, 12)
    expect(off?.peak).toBeCloseTo(0.003, 12)
  })

  test('a sine against nothing: root mean square is amplitude over the root of two, and the peak is found', () => {
    const time = Float64Array.from({ length: 4000 }, (_, i) => i / 1000)
    const sine = { time, values: time.map((t) => 3 * Math.sin(2 * Math.PI * t)), lifts: [] }
    const nothing = { time: Float64Array.of(0, 4), values: Float64Array.of(0, 0), lifts: [] }
    const { rms, peak, at, mean } = differenceOf(sine, nothing)
    expect(rms).toBeCloseTo(3 / Math.SQRT2, 9)
    expect(Math.abs(peak)).toBeCloseTo(3, 9)
    expect((at * 4) % 1).toBeCloseTo(0, 9)
    expect(mean).toBeCloseTo(0, 9)
  })

  test('what lies outside the run does not count', () => {
    const computed = { time: Float64Array.of(10, 11), values: Float64Array.of(0, 0), lifts: [] }
    expect(lane && differenceOf(strokeOf(recording, 0, lane), computed).count).toBe(0)
  })
})

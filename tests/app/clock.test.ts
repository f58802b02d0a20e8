/** Clocks that go to twelve: AM and PM behind the time, over noon and over midnight. */
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { clockIn } from '../../src/app/trend/cells'
import { TableReader } from '../../src/app/trend/table'
import { guessTime, timesOf } from '../../src/app/trend/times'

test.each([
  ['12:00:00 AM', 0],
  ['12:59:59 AM', 3599],
  ['01:00:00 AM', 3600],
  ['11:59:59 AM', 43_199],
  ['12:00:00 PM', 43_200],
  ['12:59:59 PM', 46_799],
  ['01:00:00 PM', 46_800],
  ['11:59:59 PM', 86_399],
  ['3/2/2026 1:02:03.250 PM', 46_923.25],
  ['2026-03-02T01:02:03,5pm', 46_923.5],
  ['1:02:03 p.m.', 46_923],
  ['1:02:03 p. m.', 46_923],
  ['1:02:03\u202fPM', 46_923],
  ['1:02:03 a.m.', 3723],
  ['1:02:03Am', 3723],
  // Marked, though the clock goes to 24.
  ['13:02:03 PM', 46_923],
  ['00:02:03 AM', 123],
  // Without a mark, or with something else behind.
  ['12:00:00', 43_200],
  ['01:02:03 pmx', 3723],
  ['01:02:03 mm', 3723],
])('%s is %d s since midnight', (cell, seconds) => expect(clockIn(cell)).toBeCloseTo(seconds, 9))

test.each(['13:00:00 AM', '24:00:00', '25:00:00 PM', '12:60:00 PM', 'PM', '12 PM', ''])(
  '%s is no time of day',
  (cell) => expect(clockIn(cell)).toBeNaN(),
)

const two = (value: number) => String(value).padStart(2, '0')

/** As a clock that goes to twelve shows it. */
function shown(seconds: number, mark: (isLate: boolean) => string): string {
  const hour = Math.floor(seconds / 3600) % 24
  const rest = `${two(Math.floor(seconds / 60) % 60)}:${two(seconds % 60)}`
  return `${hour % 12 === 0 ? 12 : hour % 12}:${rest}${mark(hour >= 12)}`
}

test('every second of the day is read back', () => {
  const marks = [' AM/ PM', 'am/pm', ' a.m./ p.m.', '\u00a0A.M./\u00a0P.M.'].map((pair) => pair.split('/'))
  const [any, second] = [fc.constantFrom(...marks), fc.integer({ min: 0, max: 86_399 })]
  fc.assert(
    fc.property(any, second, ([early = '', late = ''], seconds) => {
      expect(clockIn(shown(seconds, (isLate) => (isLate ? late : early)))).toBe(seconds)
    }),
  )
})

test.each([
  ['noon', 43_200 - 5],
  ['one in the afternoon', 46_800 - 5],
  ['midnight', 86_400 - 5],
  ['one in the night', 3600 - 5],
])('a recording over %s goes on evenly and loses no row', (_, from) => {
  const rows = Array.from(
    { length: 10 },
    (_, i) => `3/2/2026 ${shown(from + i, (late) => (late ? ' PM' : ' AM'))},${i}`,
  )
  const reader = new TableReader()
  reader.feed(`Time,a [N]\n${rows.join('\n')}\n`)
  const tabled = reader.end()
  if (!tabled.ok) throw new Error(tabled.say)
  const { table } = tabled
  const base = guessTime(table)
  expect(base).toEqual({ by: 'column', column: 0, unit: 's' })
  expect(base && timesOf(table, base)).toEqual({ time: Float64Array.from({ length: 10 }, (_, i) => i), lost: 0 })
})

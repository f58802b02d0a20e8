import { expect, test } from 'vitest'
import { csvHead, csvLines } from '../../src/run/csv'
import type { Channel } from '../../src/run/record'

function channel(key: string, kind: Channel['kind']): Channel {
  return { key, kind, group: 'tension', name: key, place: 0 }
}

test('the head names every column with its unit', () => {
  const channels = [channel('tension/a → b', 'force'), channel('dancer/c', 'travel'), channel('trim/d', 'fraction')]
  expect(csvHead(channels)).toBe('time (s),tension/a to b (N),dancer/c (m),trim/d (1)\n')
})

test.each(['=', '+', '-', '@'])('no cell of the head begins with %s', (sign) => {
  const cells = csvHead([channel(`${sign}sum(A1)`, 'force')]).split(',')
  expect(cells[1].startsWith(sign)).toBe(false)
})

test('a comma or a quote in a name stays inside its cell', () => {
  expect(csvHead([channel('a, "b"', 'force')])).toBe('time (s),"a, ""b"" (N)"\n')
})

test('one line a sample, columns in order, without false digits', () => {
  const data = new Float64Array([0.07 + 1e-17, 7 * 0.01, -1.5, 1e-12, 60, 0])
  expect(csvLines({ from: 0, count: 2, data, lifts: [], happenings: [] })).toBe('0.07,-1.5,60\n0.07,1e-12,0\n')
})

import { expect, test } from 'vitest'
import { at, withValue, type Json } from '../../src/app/state/document'

const document: Json = {
  line: [{ part: 'unwind' }, { part: 'dancer', drive: { kind: 'servo' } }],
  run: { for: '20 s' },
}

test('a value is found at its path, and nothing where there is none', () => {
  expect(at(document, ['line', 1, 'drive', 'kind'])).toBe('servo')
  for (const path of [
    ['line', 2],
    ['line', 'length'],
    ['run', 'constructor'],
    ['run', 'for', 0],
    ['speed', 'start'],
  ]) {
    expect(at(document, path)).toBeUndefined()
  }
})

test('one value is replaced; all else is shared, and the old document stays as it was', () => {
  const before = JSON.stringify(document)
  const changed = withValue(document, ['line', 1, 'drive', 'kind'], 'lag')
  expect(at(changed, ['line', 1, 'drive', 'kind'])).toBe('lag')
  expect(at(changed, ['line', 0])).toBe(at(document, ['line', 0]))
  expect(JSON.stringify(document)).toBe(before)
})

test('objects missing on the way are made; a value put to undefined is left out', () => {
  expect(withValue({}, ['limits', 'leastTension'], '5 N')).toEqual({ limits: { leastTension: '5 N' } })
  expect(withValue({ run: { for: '1 s', tick: '1 ms' } }, ['run', 'tick'], undefined)).toEqual({ run: { for: '1 s' } })
})

/** Verdicts on the Dancer page claim no more than what ran. */
import { describe, expect, test } from 'vitest'
import { amongPoints, holding } from '../../src/app/pages/dancer/verdicts'

describe('the tolerance run', () => {
  test('holds in all runs only where all ran', () => {
    expect(holding(17, 17, false)).toEqual({ severity: 'ok', text: 'It holds in all 17 runs.' })
    const stopped = holding(5, 17, false)
    expect(stopped.severity).toBe('warn')
    expect(stopped.text).toContain('in the 5 of 17 that ran')
    expect(stopped.text).not.toContain('all')
  })

  test('speaks of those so far while it computes', () => {
    expect(holding(5, 17, true).text).toContain('so far')
  })
})

describe('the least of points', () => {
  test('is qualified unless every point has a figure', () => {
    expect(amongPoints(50, 50, false)).toBe('')
    expect(amongPoints(12, 50, true)).toContain('12 points so far')
    expect(amongPoints(12, 50, false)).toContain('12 of 50')
  })
})

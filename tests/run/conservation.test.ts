/** What cannot be lost: film and energy, at every sample of every shipped scenario. Own derivation. */
import { describe, expect, test } from 'vitest'
import { finish, open, powerGap, ready, shipped } from './lines'

describe.each(shipped)('%s', (file) => {
  const document = open(`scenarios/${file}`)

  test('film: unwound = wound + held + scrap to 1e-9 of what ran', () => {
    const run = ready(document)
    const start = run.line.balance(run.y)
    const { summary } = finish(run, ({ line, y }) => {
      const ran = Math.max(1, y[line.unwoundState])
      expect(Math.abs(line.balance(y) - start)).toBeLessThan(1e-9 * ran)
    })
    expect(summary.film.unwound).toBeGreaterThan(1)
    expect(Math.abs(summary.film.imbalance)).toBeLessThan(1e-9 * summary.film.unwound)
  })

  test('power balance to 1e-6 of what passes', () => {
    const run = ready(document)
    // at rest nothing passes and the difference of two energies has only rounding left: hence the floor
    const floor = 1e-3 * powerGap(run).passing + 1e-3
    let checked = 0
    finish(run, () => {
      const { gap, passing } = powerGap(run)
      expect(gap / Math.max(passing, floor)).toBeLessThan(1e-6)
      checked++
    })
    expect(checked).toBeGreaterThan(1000)
  })
})

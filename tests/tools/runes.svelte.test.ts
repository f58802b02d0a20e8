import { flushSync } from 'svelte'
import { expect, test } from 'vitest'

test('runes react in unit tests', () => {
  let count = $state(1)
  const doubled = $derived(count * 2)
  const seen: number[] = []
  const stop = $effect.root(() => {
    $effect(() => {
      seen.push(doubled)
    })
  })
  flushSync()
  count += 1
  flushSync()
  stop()
  expect(seen).toEqual([2, 4])
})

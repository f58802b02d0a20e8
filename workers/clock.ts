/** The worker's clock. Its pause is a message to itself: a macrotask, so cancels are heard, without a timer's 4 ms. */
import type { Clock } from './slices'

export function createClock(): Clock {
  const waiting: (() => void)[] = []
  const { port1, port2 } = new MessageChannel()
  port1.onmessage = () => waiting.shift()?.()
  return {
    now: () => performance.now(),
    pause: () =>
      new Promise((resolve) => {
        waiting.push(resolve)
        port2.postMessage(null)
      }),
  }
}

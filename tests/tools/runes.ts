/** What unit tests run in: plain Node, with Svelte compiled as for the browser, where runes react. */
import type { Environment } from 'vitest/runtime'

const environment: Environment = {
  name: 'runes',
  viteEnvironment: 'client',
  setup: () => ({ teardown: () => undefined }),
}

export default environment

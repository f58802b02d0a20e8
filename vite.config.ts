import { svelte } from '@sveltejs/vite-plugin-svelte'
import { defaultClientConditions, type Plugin } from 'vite'
import { defineConfig } from 'vitest/config'
import { pagePolicy } from './tests/tools/policy.mjs'

/**
 * The built page carries the content security policy itself, for servers that send no headers. Not while developing: there
 * styles arrive by script.
 */
function policyInPage(): Plugin {
  return {
    name: 'spanwright-policy',
    apply: 'build',
    transformIndexHtml: () => [
      {
        tag: 'meta',
        attrs: { 'http-equiv': 'Content-Security-Policy', content: pagePolicy },
        injectTo: 'head-prepend',
      },
    ],
  }
}

/** A worker's files have a folder of their own, so that their share of the first visit can be weighed. */
const workerFiles = 'workers/[name]-[hash].js'

/** No time limit is meant as a test; these only end what hangs. */
const longestTest = 120_000

export default defineConfig({
  base: './',
  publicDir: 'src/app/static',
  plugins: [svelte(), policyInPage()],
  build: {
    target: 'es2022',
    // Nothing inside the page itself: the policy allows files only.
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
  },
  worker: { format: 'es', rolldownOptions: { output: { entryFileNames: workerFiles, chunkFileNames: workerFiles } } },
  test: {
    testTimeout: longestTest,
    hookTimeout: longestTest,
    projects: [
      {
        extends: true,
        // With the environment, Svelte's half for the browser, where runes react.
        resolve: { conditions: ['browser', ...defaultClientConditions] },
        test: {
          name: 'unit',
          include: ['tests/**/*.test.ts'],
          exclude: ['tests/browser/**'],
          environment: './tests/tools/runes.ts',
        },
      },
      {
        extends: true,
        test: {
          name: 'browser',
          include: ['tests/browser/**/*.test.ts'],
          globalSetup: 'tests/browser/setup.ts',
          fileParallelism: false,
        },
      },
    ],
  },
})

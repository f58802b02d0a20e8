import { readFileSync } from 'node:fs'
import { svelte } from '@sveltejs/vite-plugin-svelte'
import { defaultClientConditions, type Plugin } from 'vite'
import { defineConfig } from 'vitest/config'
import { offline } from './tests/tools/offline.mjs'
import { pagePolicy } from './tests/tools/policy.mjs'
import { singleFile } from './tests/tools/single.mjs'

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

const copied = 'src/app/static'

/** Told in reports. */
const { version } = JSON.parse(readFileSync(new URL('package.json', import.meta.url), 'utf8')) as { version: string }

/** `vite build` makes a folder for any web server; `vite build --mode single` one file that opens from disk. */
export default defineConfig(({ mode }) => ({
  // Relative, so that it may live in any folder of a server.
  base: './',
  define: { 'import.meta.env.SPANWRIGHT_VERSION': JSON.stringify(version) },
  publicDir: mode === 'single' ? false : copied,
  plugins: [
    svelte(),
    policyInPage(),
    mode === 'single' ? singleFile(`${copied}/icon.svg`, 'spanwright.html') : offline(copied),
  ],
  build: {
    target: 'es2022',
    // Nothing inside the page itself: the policy allows files only.
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    ...(mode === 'single'
      ? { outDir: 'dist-single', cssCodeSplit: false, rolldownOptions: { output: { codeSplitting: false } } }
      : {}),
  },
  worker: {
    // A page from disk may start no worker that is a module.
    format: mode === 'single' ? 'iife' : 'es',
    rolldownOptions: { output: { entryFileNames: workerFiles, chunkFileNames: workerFiles } },
  },
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
          // A page waits much and computes little: two files at a time fill two cores.
          maxWorkers: 2,
          sequence: { groupOrder: 1 },
        },
      },
    ],
  },
}))

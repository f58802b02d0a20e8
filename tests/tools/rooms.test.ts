import { ESLint } from 'eslint'
import tseslint from 'typescript-eslint'
import { describe, expect, test } from 'vitest'
import { root } from './process.mjs'
import { pureRooms } from './rooms.mjs'

// The project's own configuration, less the rules that need the file to be there for the compiler.
const eslint = new ESLint({ cwd: root, overrideConfig: [tseslint.configs.disableTypeChecked] })

/** The rules that a snippet breaks when it stands in a file of this name. */
async function broken(file: string, code: string): Promise<string[]> {
  const [result] = await eslint.lintText(code, { filePath: `${root}/${file}` })
  return result.messages.map(({ ruleId, message }) => ruleId ?? message)
}

const bringing = (from: string): string => `import { thing } from '${from}'\nexport const used = thing\n`

describe('a room imports from earlier rooms only', () => {
  const steps = pureRooms.flatMap((room, place) =>
    pureRooms.map((other, otherPlace) => ({ room, other, allowed: otherPlace <= place })),
  )

  test.each(steps.filter(({ allowed }) => allowed))('$room from $other: allowed', async ({ room, other }) => {
    expect(await broken(`src/${room}/new.ts`, bringing(`../${other}`))).toEqual([])
    expect(await broken(`src/${room}/deep/new.ts`, bringing(`../../${other}/file`))).toEqual([])
  })

  test.each(steps.filter(({ allowed }) => !allowed))('$room from $other: refused', async ({ room, other }) => {
    expect(await broken(`src/${room}/new.ts`, bringing(`../${other}`))).toEqual(['no-restricted-imports'])
    expect(await broken(`src/${room}/deep/new.ts`, bringing(`../../${other}/file`))).toEqual(['no-restricted-imports'])
  })

  test.each([
    ['src/line/new.ts', '../app/state/run'],
    ['src/line/new.ts', '../headless/main'],
    ['src/line/new.ts', '../../workers/client'],
    ['src/line/new.ts', '../../scenarios/first.json'],
    ['src/line/new.ts', '../film/../run'],
    ['src/line/new.ts', './../run'],
    ['src/headless/new.ts', '../app/state/run'],
    ['src/headless/new.ts', '../../workers/client'],
    ['src/app/state/new.ts', '../../headless/main'],
    ['workers/new.ts', '../src/app/state/run'],
    ['workers/new.ts', '../src/headless/main'],
    ['workers/new.ts', '../tests/tools/process'],
  ])('%s from %s: refused', async (file, from) => {
    expect(await broken(file, bringing(from))).toEqual(['no-restricted-imports'])
  })

  test.each([
    ['src/line/new.ts', './line'],
    ['src/line/parts/new.ts', '../line'],
    ['src/line/parts/new.ts', '../run'], // a folder of the room itself that is called like another room
    ['src/headless/new.ts', '../checks'],
    ['src/app/new.ts', '../checks'],
    ['src/app/pages/new.ts', '../../run'],
    ['src/app/pages/new.ts', '../../../workers/client'],
    ['src/app/pages/new.ts', '../parts/Field.svelte'],
    ['workers/new.ts', '../src/run/run'],
    ['workers/new.ts', './bridge'],
    ['tests/line/new.test.ts', '../../src/app/state/run'],
  ])('%s from %s: allowed', async (file, from) => {
    expect(await broken(file, bringing(from))).toEqual([])
  })

  test.each([
    ["export * from '../run'", 'no-restricted-imports'],
    ["import type { Outcome } from '../run'\nexport type Ours = Outcome", 'no-restricted-imports'],
    ["export const later = import('../run')", 'no-restricted-syntax'],
    ["export type Ours = import('../run').Outcome", 'no-restricted-syntax'],
    ["export const files = import.meta.glob('../run/*.ts')", 'no-restricted-syntax'],
  ])('no way round: %s', async (code, rule) => {
    expect(await broken('src/line/new.ts', code)).toContain(rule)
  })

  test('imports carry no file extension', async () => {
    expect(await broken('src/line/new.ts', bringing('./line.ts'))).toEqual(['no-restricted-imports'])
  })

  test('a file must lie in a room, and not deeper than the rules reach', async () => {
    expect(await broken('src/new.ts', 'export const one = 1')).toEqual(['no-restricted-syntax'])
    expect(await broken('src/line/a/b/c/d/new.ts', 'export const one = 1')).toEqual(['no-restricted-syntax'])
    expect(await broken('src/line/a/b/c/new.ts', bringing('../../../../run'))).toEqual(['no-restricted-imports'])
  })
})

describe('a library is known to one place', () => {
  test.each([
    ['odex', 'src/run/odex.js', ['src/run/step.ts', 'src/tune/new.ts', 'src/app/new.ts', 'workers/new.ts']],
    [
      'comlink',
      'workers/bridge.ts',
      ['workers/client.ts', 'workers/run.worker.ts', 'src/app/new.ts', 'src/run/new.ts'],
    ],
    ['uplot', 'src/app/charts/plot.ts', ['src/app/charts/new.ts', 'src/app/parts/new.ts', 'src/run/new.ts']],
    ['uplot/dist/uPlot.min.css', 'src/app/charts/plot.ts', ['src/app/charts/new.ts']],
    ['svelte', 'src/app/new.ts', ['src/run/new.ts', 'src/headless/new.ts', 'workers/new.ts']],
    ['svelte/store', 'src/app/state/new.ts', ['src/units/new.ts']],
    ['node:fs', 'src/headless/new.ts', ['src/run/new.ts', 'src/app/new.ts', 'workers/new.ts']],
    ['fs/promises', 'src/headless/new.ts', ['src/run/new.ts']],
  ])('%s to %s', async (library, home, strangers) => {
    expect(await broken(home, bringing(library))).toEqual([])
    for (const stranger of strangers)
      expect(await broken(stranger, bringing(library))).toEqual(['no-restricted-imports'])
  })

  test('others are free', async () => {
    expect(await broken('src/tune/new.ts', bringing('ml-matrix'))).toEqual([])
    expect(await broken('src/film/new.ts', bringing('valibot'))).toEqual([])
  })
})

describe('what computes knows no browser, no Node, no clock and no chance', () => {
  const forbidden = [
    'window',
    'document',
    'navigator',
    'localStorage',
    'self',
    'postMessage',
    'fetch',
    'performance',
    'Date',
    'setTimeout',
    'requestAnimationFrame',
    'process',
    'globalThis',
  ]

  test.each(forbidden)('%s is refused in every room', async (name) => {
    for (const room of pureRooms) {
      expect(await broken(`src/${room}/new.ts`, `export const held = ${name}`)).toEqual(['no-restricted-globals'])
    }
  })

  test.each(['Math.random()', "Math['random']()"])('%s is refused', async (code) => {
    expect(await broken('src/run/new.ts', `export const chance = ${code}`)).toEqual(['no-restricted-properties'])
  })

  test('the language itself is free, and so is a name of our own', async () => {
    expect(
      await broken('src/run/new.ts', 'export const held = [Math.exp(1), new Map(), Float64Array, Number.NaN]'),
    ).toEqual([])
    expect(await broken('src/run/new.ts', 'const top = 1\nexport const held = top')).toEqual([])
  })

  test('the command line knows Node and no browser, the page and the workers their own', async () => {
    expect(await broken('src/headless/new.ts', 'export const held = [process, performance, Date]')).toEqual([])
    expect(await broken('src/headless/new.ts', 'export const held = document')).toEqual(['no-restricted-globals'])
    expect(await broken('src/app/new.ts', 'export const held = [document, Date, setTimeout]')).toEqual([])
    expect(await broken('workers/new.ts', 'export const held = [self, postMessage]')).toEqual([])
  })
})

describe('what is never written', () => {
  const postponed = ['TO', 'DO'].join('') // in parts, so that a search for such notes finds none

  test.each([
    ['export const held: any = 1', '@typescript-eslint/no-explicit-any'],
    ["// @ts-ignore\nexport const held: number = 'one'", '@typescript-eslint/ban-ts-comment'],
    ["// @ts-expect-error: for a reason\nexport const held: number = 'one'", '@typescript-eslint/ban-ts-comment'],
    [`// ${postponed} later\nexport const held = 1`, 'no-warning-comments'],
    ['// eslint-disable-next-line\nexport const held: any = 1', '@typescript-eslint/no-explicit-any'],
  ])('%s', async (code, rule) => {
    expect(await broken('src/run/new.ts', code)).toContain(rule)
  })

  test('a style attribute, which the content security policy blocks', async () => {
    expect(await broken('src/app/New.svelte', '<p style="color: red">red</p>')).toEqual(['no-restricted-syntax'])
    expect(await broken('src/app/New.svelte', '<p style:color="red">red</p>')).toEqual([])
  })
})

/** The committed trees of the equations are those of the script, and figures go where they are wanted. */
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { equation, equationKeys, filled, type MathNode } from '../../src/app/equations/tree'
import { figuresOf } from '../../src/app/pages/wrinkle/figures'
import { sayIn } from '../../src/app/pages/wrinkle/bench.svelte'
import { assess } from '../../src/wrinkle'
import { equationsFile, equationTrees } from '../tools/equations.mjs'
import { root } from '../tools/process.mjs'
import { starting } from '../wrinkle/setting'

const texts = (node: MathNode | string): string[] => (typeof node === 'string' ? [node] : node.children.flatMap(texts))

const tags = (node: MathNode | string): string[] =>
  typeof node === 'string' ? [] : [node.tag, ...node.children.flatMap(tags)]

test('the committed file is up to date (if not: node tests/tools/equations.mjs)', () => {
  const committed: unknown = JSON.parse(readFileSync(join(root, equationsFile), 'utf8'))
  expect(committed).toEqual(equationTrees())
})

test.each(equationKeys)('%s is MathML without anything that the policy forbids', (key) => {
  const tree = equation(key)
  expect(typeof tree === 'string' ? '' : tree.tag).toBe('math')
  expect(tags(tree).filter((tag) => !/^(math|semantics|m[a-z]+)$/.test(tag))).toEqual([])
  expect(JSON.stringify(tree)).not.toMatch(/"(style|class|on\w+)"/)
})

test('every place of the page’s equations has a figure', () => {
  const figures = figuresOf(assess(starting), sayIn('metric'))
  const places = equationKeys.flatMap((key) => texts(equation(key)).flatMap((text) => [...text.matchAll(/@(\w+)@/g)]))
  expect(places.length).toBeGreaterThan(10)
  for (const [, name] of places) expect(figures[name], name).toMatch(/\d/)
  expect(filled('@h@ and @none@', { h: '25 µm' })).toBe('25 µm and none')
})

test('stresses are read in kPa where they are small', () => {
  const figures = figuresOf(assess(starting), sayIn('metric'))
  expect(figures.limit).toBe('12.5 kPa')
  expect(figures.fold).toBe('1.76 MPa')
  expect(figuresOf(assess(starting), sayIn('inch')).limit).toMatch(/ psi$/)
})

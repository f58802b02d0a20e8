/** The program itself, as it is typed: its streams and exit codes. */
import { spawn, spawnSync } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { text } from 'node:stream/consumers'
import { afterAll, expect, test } from 'vitest'
import { root } from '../tools/process.mjs'
import { shortLine } from './line'

const folder = mkdtempSync(join(tmpdir(), 'spanwright-program-'))
afterAll(() => rmSync(folder, { recursive: true, force: true }))

const script = join(root, 'tests', 'tools', 'headless.mjs')

function program(args: readonly string[], input = '') {
  const { status, stdout, stderr } = spawnSync(process.execPath, [script, ...args], { input, encoding: 'utf8' })
  return { status, stdout, stderr }
}

test('a scenario from standard input gives one object on standard output and nothing else', () => {
  const { status, stdout, stderr } = program(['run', '-', '--json'], JSON.stringify(shortLine))
  expect(stderr).toBe('')
  expect(JSON.parse(stdout)).toMatchObject({ title: shortLine.title, outcome: 'finished' })
  expect(status).toBe(0)
})

test('standard input may come slowly', async () => {
  const child = spawn(process.execPath, [script, 'run', '-', '--json'], { stdio: ['pipe', 'pipe', 'inherit'] })
  const output = text(child.stdout)
  const scenario = JSON.stringify(shortLine)
  child.stdin.write(scenario.slice(0, 100))
  await new Promise((resolve) => setTimeout(resolve, 1_500))
  child.stdin.end(scenario.slice(100))
  expect(JSON.parse(await output)).toMatchObject({ outcome: 'finished' })
})

test('a scenario from a file, its samples into another, a broken limit as exit code', () => {
  const [scenario, samples] = [join(folder, 'line.json'), join(folder, 'out.csv')]
  writeFileSync(scenario, JSON.stringify(shortLine))
  const { status, stdout } = program([
    'run',
    scenario,
    '--csv',
    samples,
    '--strict',
    '--set',
    'limits/leastTension=500 N',
  ])
  expect(stdout).toContain('500 N is wanted')
  expect(readFileSync(samples, 'utf8')).toMatch(/^time \(s\),/)
  expect(status).toBe(1)
})

test('what is refused is told on standard error', () => {
  const { status, stdout, stderr } = program(['run', '-', '--set', 'run/for=3 kg'], JSON.stringify(shortLine))
  expect(stdout).toBe('')
  expect(stderr).toMatch(/^run\/for: found "3 kg"/)
  expect(status).toBe(2)
})

test('wrong usage shows what can be typed', () => {
  const { status, stdout, stderr } = program(['walk'])
  expect(stdout).toBe('')
  expect(stderr).toContain('There is no command "walk".')
  expect(stderr).toContain('run FILE [--json | --csv OUT.csv]')
  expect(status).toBe(4)
})

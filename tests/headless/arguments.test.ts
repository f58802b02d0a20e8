import { expect, test } from 'vitest'
import { readArguments } from '../../src/headless/arguments'

test('run with a file alone', () => {
  expect(readArguments(['run', 'a.json'])).toEqual({
    command: 'run',
    file: 'a.json',
    json: false,
    csv: undefined,
    sets: [],
    strict: false,
    timing: false,
  })
})

test('run with everything, in any order, and standard input', () => {
  const args = [
    '--strict',
    'run',
    '--set',
    'line/infeed dancer/mass=6 kg',
    '-',
    '--timing',
    '--json',
    '--set=run/for=2 s',
  ]
  expect(readArguments(args)).toEqual({
    command: 'run',
    file: '-',
    json: true,
    csv: undefined,
    sets: [
      { path: 'line/infeed dancer/mass', value: '6 kg' },
      { path: 'run/for', value: '2 s' },
    ],
    strict: true,
    timing: true,
  })
})

test('a value may hold an equals sign, and may be empty', () => {
  expect(readArguments(['run', 'a', '--set', 'title=a = b', '--set', 'about='])).toMatchObject({
    sets: [
      { path: 'title', value: 'a = b' },
      { path: 'about', value: '' },
    ],
  })
})

test('checks and help', () => {
  expect(readArguments(['checks'])).toEqual({ command: 'checks' })
  expect(readArguments(['--help'])).toEqual({ command: 'help' })
  expect(readArguments(['help'])).toEqual({ command: 'help' })
  expect(readArguments(['run', '--help'])).toEqual({ command: 'help' })
})

const wrong: readonly [string, readonly string[], string][] = [
  ['nothing', [], 'no command'],
  ['an unknown command', ['walk'], '"walk"'],
  ['no file', ['run'], 'needs a FILE'],
  ['two files', ['run', 'a', 'b'], 'found also b'],
  ['two outputs', ['run', 'a', '--json', '--csv', 'b'], 'one of --json and --csv'],
  ['a file name forgotten', ['run', 'a', '--csv'], '--csv'],
  ['samples to standard output', ['run', 'a', '--csv', '-'], 'name of a file'],
  ['a set without a value', ['run', 'a', '--set', 'run/for'], 'PATH=VALUE, found "run/for"'],
  ['a set without a path', ['run', 'a', '--set', '=2 s'], 'PATH=VALUE, found "=2 s"'],
  ['an unknown option', ['run', 'a', '--fast'], '--fast'],
  ['an option given to checks', ['checks', '--strict'], '--strict'],
]

test.each(wrong)('wrong usage: %s', (_, args, words) => {
  const command = readArguments(args)
  if (command.command !== 'wrong') throw new Error(`taken as ${command.command}`)
  expect(command.say).toContain(words)
})

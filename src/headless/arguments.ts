/** What was typed, as a command. */
import { parseArgs } from 'node:util'
import { readShare, readVary, type SweepCommand } from './sweep-arguments'

export interface RunCommand {
  readonly command: 'run'
  /** '-': standard input */
  readonly file: string
  readonly json: boolean
  readonly csv: string | undefined
  readonly sets: readonly { readonly path: string; readonly value: string }[]
  readonly strict: boolean
  readonly timing: boolean
}

export interface ModesCommand {
  readonly command: 'modes'
  /** '-': standard input */
  readonly file: string
  readonly json: boolean
  readonly sets: RunCommand['sets']
}

export type Command =
  RunCommand | SweepCommand | ModesCommand | { readonly command: 'checks' } | { readonly command: 'help' } | Wrong

interface Wrong {
  readonly command: 'wrong'
  readonly say: string
}

const options = {
  json: { type: 'boolean' },
  csv: { type: 'string' },
  set: { type: 'string', multiple: true },
  strict: { type: 'boolean' },
  timing: { type: 'boolean' },
  vary: { type: 'string', multiple: true },
  share: { type: 'string' },
  help: { type: 'boolean' },
} as const

export function readArguments(args: readonly string[]): Command {
  let parsed
  try {
    parsed = parseArgs({ args: [...args], options, allowPositionals: true })
  } catch (error) {
    return wrong(error instanceof Error ? error.message : String(error))
  }
  const { values, positionals } = parsed
  const [command, ...rest] = positionals
  if (values.help || command === 'help') return { command: 'help' }
  if (command === undefined) return wrong('There is no command.')
  if (command === 'checks') {
    const extra = [...rest, ...Object.keys(values).map((name) => `--${name}`)]
    return extra.length === 0 ? { command } : wrong(`checks takes nothing more, found ${extra.join(' ')}.`)
  }
  if (command === 'run') return readRun(values, rest)
  if (command === 'sweep') return readSweep(values, rest)
  if (command === 'modes') return readModes(values, rest)
  return wrong(`There is no command "${command}".`)
}

interface Values {
  readonly json?: boolean
  readonly csv?: string
  readonly set?: string[]
  readonly strict?: boolean
  readonly timing?: boolean
  readonly vary?: string[]
  readonly share?: string
}

function readRun(values: Values, files: readonly string[]): Command {
  const common = readCommon('run', values, files)
  if ('say' in common) return common
  const { json = false, csv, strict = false, timing = false, vary, share } = values
  if (json && csv !== undefined) return wrong('Choose one of --json and --csv.')
  if (vary !== undefined || share !== undefined) return wrong('--vary and --share belong to sweep.')
  return { command: 'run', ...common, json, csv, strict, timing }
}

function readSweep(values: Values, files: readonly string[]): Command {
  const common = readCommon('sweep', values, files)
  if ('say' in common) return common
  const { json = false, csv, strict, timing, vary = [] } = values
  if (strict !== undefined || timing !== undefined) return wrong('--strict and --timing belong to run.')
  if (vary.length === 0) return wrong('sweep needs at least one --vary PATH=FROM..TO/N.')
  const ends = vary.map((text) => ({ text, read: readVary(text) }))
  const bad = ends.find(({ read }) => read === undefined)
  if (bad) return wrong(`--vary needs PATH=FROM..TO/N, such as "run/for=10 s..20 s/3", found "${bad.text}".`)
  const share = readShare(values.share)
  if (!share) return wrong(`--share needs I/N, such as 1/4, found "${values.share ?? ''}".`)
  return { command: 'sweep', ...common, vary: ends.flatMap(({ read }) => read ?? []), share, json, csv }
}

function readModes(values: Values, files: readonly string[]): Command {
  const common = readCommon('modes', values, files)
  if ('say' in common) return common
  const { json = false, set, ...others } = values
  const [extra] = Object.keys(others)
  if (extra !== undefined) return wrong(`modes takes --json and --set, found --${extra}.`)
  return { command: 'modes', ...common, json }
}

type Common = Pick<RunCommand, 'file' | 'sets'>

function readCommon(command: string, { csv, set = [] }: Values, files: readonly string[]): Common | Wrong {
  const [file, ...others] = files
  if (file === undefined) return wrong(`${command} needs a FILE.`)
  if (others.length > 0) {
    return wrong(`${command} takes one FILE, found also ${others.join(' ')}. Quote what contains spaces.`)
  }
  if (csv === '' || csv === '-') return wrong('--csv needs the name of a file to write.')
  const sets = set.map((text) => {
    const equals = text.indexOf('=')
    return { text, path: text.slice(0, equals).trim(), value: text.slice(equals + 1).trim(), fits: equals > 0 }
  })
  const bad = sets.find(({ fits }) => !fits)
  if (bad) return wrong(`--set needs PATH=VALUE, found "${bad.text}".`)
  return { file, sets: sets.map(({ path, value }) => ({ path, value })) }
}

function wrong(say: string): Wrong {
  return { command: 'wrong', say }
}

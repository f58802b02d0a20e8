/** What was typed, as a command. */
import { parseArgs } from 'node:util'

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

export type Command =
  | RunCommand
  | { readonly command: 'checks' }
  | { readonly command: 'help' }
  | { readonly command: 'wrong'; readonly say: string }

const options = {
  json: { type: 'boolean' },
  csv: { type: 'string' },
  set: { type: 'string', multiple: true },
  strict: { type: 'boolean' },
  timing: { type: 'boolean' },
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
  return wrong(`There is no command "${command}".`)
}

interface Values {
  readonly json?: boolean
  readonly csv?: string
  readonly set?: string[]
  readonly strict?: boolean
  readonly timing?: boolean
}

function readRun(values: Values, files: readonly string[]): Command {
  const [file, ...others] = files
  if (file === undefined) return wrong('run needs a FILE.')
  if (others.length > 0) return wrong(`run takes one FILE, found also ${others.join(' ')}. Quote what contains spaces.`)
  const { json = false, csv, set = [], strict = false, timing = false } = values
  if (json && csv !== undefined) return wrong('Choose one of --json and --csv.')
  if (csv === '' || csv === '-') return wrong('--csv needs the name of a file to write.')
  const sets = set.map((text) => {
    const equals = text.indexOf('=')
    return { text, path: text.slice(0, equals).trim(), value: text.slice(equals + 1).trim(), fits: equals > 0 }
  })
  const bad = sets.find(({ fits }) => !fits)
  if (bad) return wrong(`--set needs PATH=VALUE, found "${bad.text}".`)
  return {
    command: 'run',
    file,
    json,
    csv,
    sets: sets.map(({ path, value }) => ({ path, value })),
    strict,
    timing,
  }
}

function wrong(say: string): Command {
  return { command: 'wrong', say }
}

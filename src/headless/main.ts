/** Entry of the command line: the one file that touches the process. */
import { closeSync, openSync, readFileSync, writeSync } from 'node:fs'
import { text } from 'node:stream/consumers'
import { readArguments } from './arguments'
import { usage } from './usage'
import { checksCommand } from './checks'
import { exitCodes } from './exit'
import { sweepCommand } from './sweep'
import { modesCommand } from './modes'
import { runCommand, type Surroundings } from './run'

/** What came through standard input; read beforehand, since a pipe may not be ready when it is read at once. */
let input = ''

const around: Surroundings = {
  read: (file) => (file === '-' ? input : readFileSync(file, 'utf8')),
  write: (file) => {
    const handle = openSync(file, 'w')
    return { append: (lines) => writeAll(handle, lines), close: () => closeSync(handle) }
  },
  print: (line) => void process.stdout.write(`${line}\n`),
  complain: (line) => void process.stderr.write(`${line}\n`),
  now: () => performance.now(),
}

/** A single write may take only a part, into a pipe for instance. */
function writeAll(handle: number, lines: string): void {
  let bytes = Buffer.from(lines)
  while (bytes.length > 0) bytes = bytes.subarray(writeSync(handle, bytes))
}

async function main(args: readonly string[]): Promise<number> {
  const command = readArguments(args)
  switch (command.command) {
    case 'run':
      if (command.file === '-') input = await text(process.stdin)
      return runCommand(command, around)
    case 'sweep':
      if (command.file === '-') input = await text(process.stdin)
      return sweepCommand(command, around)
    case 'modes':
      if (command.file === '-') input = await text(process.stdin)
      return modesCommand(command, around)
    case 'checks':
      return checksCommand(around.print)
    case 'help':
      around.print(usage)
      return exitCodes.finished
    case 'wrong':
      around.complain(`${command.say}\n\n${usage}`)
      return exitCodes.usage
  }
}

// A reader that has seen enough, such as `head`, is no error.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code !== 'EPIPE') throw error
  process.exit()
})
try {
  process.exitCode = await main(process.argv.slice(2))
} catch (error) {
  // Not to be met; but 1, Node's own answer, would read as a broken limit.
  around.complain(`This should not have happened: ${error instanceof Error ? error.stack : String(error)}`)
  process.exitCode = exitCodes.failed
}

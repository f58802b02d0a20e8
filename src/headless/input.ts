/** From a file's name to a document, with the fields that the command line changes. */
import { tooLong } from '../scenario/guard'
import { parseJson } from '../scenario/json'
import { setField } from '../scenario/path'
import type { Problem } from '../units'
import { exitCodes } from './exit'

interface Reader {
  readonly read: (file: string) => string
  readonly complain: (line: string) => void
}

/** The text of a file; undefined, and told, when it cannot be read. */
export function textOf(file: string, around: Reader): string | undefined {
  try {
    return around.read(file)
  } catch (error) {
    unusable(around, file, 'cannot be read', error)
    return undefined
  }
}

export type Document = { ok: true; document: unknown } | { ok: false; problems: Problem[] }

export function documentFrom(
  text: string,
  sets: readonly { readonly path: string; readonly value: string }[],
): Document {
  const long = tooLong(text)
  if (long) return { ok: false, problems: [long] }
  const parsing = parseJson(text)
  if (!parsing.ok) return { ok: false, problems: [parsing.problem] }
  let { document } = parsing
  const problems = []
  for (const { path, value } of sets) {
    const setting = setField(document, path, value)
    if (setting.ok) document = setting.document
    else problems.push(setting.problem)
  }
  return problems.length === 0 ? { ok: true, document } : { ok: false, problems }
}

/** A file that cannot be used, and why. */
export function unusable(around: Pick<Reader, 'complain'>, file: string, what: string, error: unknown): number {
  const code = error instanceof Error && 'code' in error ? String(error.code) : ''
  around.complain(`${file} ${what}: ${reasons[code] ?? (error instanceof Error ? error.message : String(error))}`)
  return exitCodes.usage
}

const reasons: Readonly<Record<string, string | undefined>> = {
  ENOENT: 'there is no such file or folder',
  EISDIR: 'it is a folder',
  EACCES: 'it is not permitted',
  ENOSPC: 'there is no room left',
}

/**
 * Versions of the scenario file. A file states its own; an older one is brought up step by step, a newer one is refused.
 * To change the format: raise the version, and add the step that turns a file of the version before into one of the new.
 */
import { isPlainObject, own, problemAt, show, type Problem } from '../units'

export const FILE_VERSION = 1

/** Turns a document of one version into one of the next; it has passed the guard, but not been validated. */
export type Step = (document: Readonly<Record<string, unknown>>) => Readonly<Record<string, unknown>>

/** By the version that the step starts from. */
const steps: ReadonlyMap<number, Step> = new Map()

export type Migration =
  { readonly ok: true; readonly document: unknown } | { readonly ok: false; readonly problem: Problem }

/** The document as one of the present version. */
export function migrate(document: unknown, target: number = FILE_VERSION, known = steps): Migration {
  if (!isPlainObject(document)) return refuse([], document, show(document), 'an object, { ... }')
  const version = own(document, 'spanwright')
  if (version === undefined) {
    return refuse(['spanwright'], document, 'nothing', 'the version of the file', `write "spanwright": ${target}`)
  }
  if (typeof version !== 'number' || !Number.isInteger(version)) {
    return refuse(['spanwright'], document, show(version), `the version of the file, ${target}`)
  }
  if (version > target) {
    const hint = 'the file was written by a newer version of this program: read it with that one'
    return refuse(['spanwright'], document, show(version), `at most version ${target}`, hint)
  }
  let present = document
  for (let from = version; from < target; from++) {
    const step = known.get(from)
    if (!step) return refuse(['spanwright'], document, show(version), `the version of the file, ${target}`)
    present = { ...step(present), spanwright: from + 1 }
  }
  return { ok: true, document: present }
}

function refuse(
  place: readonly string[],
  document: unknown,
  found: string,
  expected: string,
  hint?: string,
): Migration {
  return { ok: false, problem: problemAt(place, document, found, expected, hint) }
}

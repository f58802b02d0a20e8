/** From a file's text, or a document that comes from elsewhere, to a scenario; or to what is wrong with it, by field. */
import * as v from 'valibot'
import { problemsOf, type Problem } from '../units'
import { check } from './check'
import { guard, tooLong } from './guard'
import { parseJson } from './json'
import { MOST_PROBLEMS } from './limits'
import { migrate } from './migrate'
import { scenarioSchema, type Scenario, type ScenarioDocument } from './schema'
import { listsForObjects } from './shape'

export type Reading =
  | { readonly ok: true; readonly scenario: Scenario; readonly document: ScenarioDocument }
  | { readonly ok: false; readonly problems: readonly Problem[] }

export function readScenario(text: string): Reading {
  const long = tooLong(text)
  if (long) return refused([long])
  const parsing = parseJson(text)
  return parsing.ok ? readDocument(parsing.document) : refused([parsing.problem])
}

/** The document is not changed; the one in the answer is of the present version. */
export function readDocument(document: unknown): Reading {
  const guarded = guard(document)
  if (guarded.length > 0) return refused(guarded)
  const migration = migrate(document)
  if (!migration.ok) return refused([migration.problem])
  const present = migration.document
  const lists = listsForObjects(present, scenarioSchema)
  if (lists.length > 0) return refused(lists)
  const result = v.safeParse(scenarioSchema, present)
  if (!result.success) return refused(problemsOf(result.issues, present, scenarioSchema))
  const problems = check(result.output, present)
  if (problems.length > 0) return refused(problems)
  return { ok: true, scenario: result.output, document: present as ScenarioDocument }
}

function refused(problems: readonly Problem[]): Reading {
  return { ok: false, problems: problems.slice(0, MOST_PROBLEMS) }
}

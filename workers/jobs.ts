/** The jobs that the pool can do, by name. To add one: write it as a pure function in its room, and add its line here. */
import { listOfChecks, toldCheck } from '../src/checks/told'
import { sweepCases } from '../src/tune/sweep'
import { limitSearch } from '../src/tune/find-limit'
import type { Registry } from './job'

export const jobs = {
  /** one scenario document with some fields changed: its verdict figures */
  'sweep case': sweepCases,
  /** where a verdict figure crosses a limit as one field changes */
  'find limit': limitSearch,
  /** what the published and derived checks are about */
  'list of checks': listOfChecks,
  /** one of them, by its id */
  check: toldCheck,
} satisfies Registry

export type Jobs = typeof jobs

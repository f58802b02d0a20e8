/** The jobs that the pool can do, by name. To add one: write it as a pure function in its room, and add its line here. */
import { listOfChecks, toldCheck } from '../src/checks/told'
import type { Registry } from './job'

export const jobs = {
  /** what the published and derived checks are about */
  'list of checks': listOfChecks,
  /** one of them, by its id */
  check: toldCheck,
} satisfies Registry

export type Jobs = typeof jobs

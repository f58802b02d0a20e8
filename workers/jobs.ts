/** The jobs that the pool can do, by name. To add one: write it as a pure function in its room, and add its line here. */
import { sweepCases } from '../src/tune/sweep'
import { limitSearch } from '../src/tune/find-limit'
import type { Registry } from './job'

export const jobs = {
  /** one scenario document with some fields changed: its verdict figures */
  'sweep case': sweepCases,
  /** where a verdict figure crosses a limit as one field changes */
  'find limit': limitSearch,
} satisfies Registry

export type Jobs = typeof jobs

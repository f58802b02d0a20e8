/** The jobs that the pool can do, by name. To add one: write it as a pure function in its room, and add its line here. */
import { askLoop, askModes } from '../src/tune/ask'
import { askAdvice } from '../src/tune/ask-advice'
import { askMap } from '../src/tune/ask-map'
import { askResponse } from '../src/tune/ask-response'
import { askRipple } from '../src/tune/ask-ripple'
import { askStep } from '../src/tune/step'
import { listOfChecks, toldCheck } from '../src/checks/told'
import { adviceJob, rollJob } from '../src/roll/job'
import { sweepCases } from '../src/tune/sweep'
import { limitSearch } from '../src/tune/find-limit'
import { askCorner } from '../src/tune/ask-corner'
import type { Registry } from './job'

export const jobs = {
  /** one scenario document with some fields changed: its verdict figures */
  'sweep case': sweepCases,
  /** where a verdict figure crosses a limit as one field changes */
  'find limit': limitSearch,
  /** modes of the line at a point */
  modes: askModes,
  /** gain and margins of a loop at a point */
  loop: askLoop,
  /** the answer of a tension or a dancer to a disturbance, over frequency */
  response: askResponse,
  /** rows of a stability map */
  map: askMap,
  /** what a dancer's ripple is made of */
  ripple: askRipple,
  /** a search for settings that hold tension better */
  advice: askAdvice,
  /** corners of what may differ from what was stated */
  'tolerance corner': askCorner,
  /** a step of a dancer's set point on the simulator */
  step: askStep,
  /** what the published and derived checks are about */
  'list of checks': listOfChecks,
  /** one of them, by its id */
  check: toldCheck,
  /** the roll that a scenario winds: pressures, findings, and which way to turn what */
  roll: rollJob,
  /** the taper that keeps it inside its limits with the flattest pressure */
  'roll advice': adviceJob,
} satisfies Registry

export type Jobs = typeof jobs

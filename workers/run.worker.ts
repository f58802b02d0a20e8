/** Entry of the worker that runs lines. */
import { prepare } from '../src/run/prepare'
import { serveRuns } from './bridge'
import { createClock } from './clock'

serveRuns(prepare, createClock(), globalThis)

/** Entry of the pool's workers. */
import { serveJobs } from './bridge'
import { createClock } from './clock'
import { jobs } from './jobs'

serveJobs(jobs, createClock(), globalThis)

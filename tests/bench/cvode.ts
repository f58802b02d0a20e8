/**
 * Our integration against SUNDIALS CVODE in C (BDF, dense Jacobian) on the same equations, in the same run, from the same
 * state, with the same tolerance; and the errors of both against CVODE at 1e-11. Ours is the whole run: switches watched,
 * extremes scanned and channels recorded; CVODE's is the integration alone.
 */
import { spawnSync } from 'node:child_process'
import { closeSync, mkdtempSync, openSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { Line } from '../../src/line/line'
import { Run } from '../../src/run/run'
import { readDocument } from '../../src/scenario/read'
import type { Scenario } from '../../src/scenario/schema'
import type { Row } from '../tools/table.mjs'
import { bestOf } from './measure'

/** The benchmarks are started in the project's folder. */
const reference = join(process.cwd(), 'tests', 'reference')
const tolerance = 1e-6
const rounds = 5

/** In the files' own stage one ramp is over after a fifth of the run, and a solver with memory hardly steps any more. */
const loads: Readonly<Record<string, readonly object[] | undefined>> = {
  'one ramp': undefined,
  'a ramp every second': Array.from({ length: 10 }, (_, k) => ({
    at: `${k + 0.5} s`,
    do: 'speed',
    to: k % 2 === 0 ? '30 m/min' : '20 m/min',
    in: '0.5 s',
  })),
}

/** What cvode_line prints. Film held (m) of every span comes first in a sample. */
interface Integration {
  readonly wallMs: number
  readonly steps: number
  readonly rhs: number
  readonly samples: readonly (readonly number[])[]
}
type Result = Integration & { readonly states: number; readonly sampleEvery: number; readonly tight: Integration }

/** A program from outside is missing or does not work here: nothing is said about ours. */
class CannotRun extends Error {}

export function bench(): Promise<Row[]> {
  const folder = mkdtempSync(join(tmpdir(), 'spanwright-cvode-'))
  try {
    const program = compile(folder)
    const rows = Object.entries(loads).flatMap(([load, stage]) => [
      compare(37, 1, load, stage, program, folder),
      compare(85, 0.5, load, stage, program, folder),
    ])
    return Promise.resolve(rows)
  } catch (error) {
    if (!(error instanceof CannotRun)) throw error
    const note = `${error.message} To measure it install gcc, libsundials-dev and python3-scipy.`
    return Promise.resolve([{ what: 'against CVODE', budget: '', measured: 'not measured', within: null, note }])
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}

function compile(folder: string): string {
  const program = join(folder, 'cvode_line')
  const libraries = ['cvode', 'nvecserial', 'sunmatrixdense', 'sunlinsoldense'].map((name) => `-lsundials_${name}`)
  command('gcc', ['-O2', '-std=c11', join(reference, 'cvode_line.c'), '-o', program, ...libraries, '-lm'])
  return program
}

function compare(
  states: number,
  mostOfCvode: number,
  load: string,
  stage: readonly object[] | undefined,
  program: string,
  folder: string,
): Row {
  const stated = JSON.parse(readFileSync(join(reference, `bench-${states}.scenario.json`), 'utf8')) as object
  const document = stage === undefined ? stated : { ...stated, stage }
  const file = join(folder, 'line.scenario.json')
  writeFileSync(file, JSON.stringify(document))
  const scenario = scenarioFrom(document)
  const input = [join(folder, 'line.txt'), join(folder, 'line.atol')] as const
  command('python3', ['-B', join(reference, 'bench_lines.py'), file, ...input, String(tolerance)])
  let cvode = integrate(program, ...input)
  const start = startFor(scenario, cvode)
  // By turns, so that whatever else the machine does meets both.
  let ours = Infinity
  for (let round = 0; round < rounds; round++) {
    ours = Math.min(
      ours,
      bestOf(5, () => new Run(scenario, new Line(scenario), [...start]), runToEnd),
    )
    const again = integrate(program, ...input)
    if (again.wallMs < cvode.wallMs) cvode = again
  }
  const ratio = ours / cvode.wallMs
  const { line, samples, evaluations } = sampled(scenario, start, cvode.sampleEvery)
  const errors = [samples, cvode.samples].map((those) => tensionError(line, those, cvode.tight.samples))
  const [ourError, cvodeError] = errors.map((error) => `${(error * 1e3).toPrecision(2)} mN`)
  return {
    what: `${cvode.states} states, ${scenario.run.for} s, tolerance ${tolerance}, ${load}`,
    budget: `at most ${mostOfCvode} of CVODE's time`,
    measured: `${ours.toFixed(1)} ms, CVODE ${cvode.wallMs.toFixed(1)} ms: ${ratio.toFixed(2)}`,
    within: ratio <= mostOfCvode,
    note: `largest error of a tension: ours ${ourError}, CVODE ${cvodeError}; evaluations ${evaluations}, CVODE ${cvode.rhs}`,
  }
}

function scenarioFrom(document: object): Scenario {
  const reading = readDocument(document)
  if (!reading.ok) throw new Error(reading.problems.map(({ say }) => say).join(' '))
  return { ...reading.scenario, run: { ...reading.scenario.run, tolerance } }
}

function integrate(program: string, lineFile: string, toleranceFile: string): Result {
  const input = openSync(lineFile, 'r')
  try {
    return JSON.parse(command(program, [String(tolerance), toleranceFile, '5'], input)) as Result
  } finally {
    closeSync(input)
  }
}

/** CVODE's start in our order of states: it has the trim's integral last, we have the servos' integrals last. */
function startFor(scenario: Scenario, { samples: [first] }: Result): number[] {
  const line = new Line(scenario)
  if (first.length !== line.size) throw new Error(`the line has ${line.size} states, CVODE's ${first.length}.`)
  const servos = line.stateNames.filter((name) => name.startsWith('torque of ')).length
  const [trim, ...others] = line.stateNames.slice(line.size - servos - 1)
  // A start in another order would be another line, which runs all the same.
  if (!trim?.startsWith('integral of the trim') || others.some((name) => !name.startsWith('torque of ')))
    throw new Error('the states of the line stand in another order than this file takes them to.')
  const common = first.slice(0, line.size - servos - 1)
  return [...common, ...first.slice(-1), ...first.slice(-1 - servos, -1)]
}

function runToEnd(run: Run): void {
  while (run.step() === undefined);
  run.takeBlock()
}

function sampled(scenario: Scenario, start: readonly number[], every: number) {
  const line = new Line(scenario)
  const run = new Run(scenario, line, [...start])
  const samples: (readonly number[])[] = [start]
  const ticks = Math.round(every / scenario.run.tick)
  let outcome = run.step()
  for (let tick = 1; ; tick++) {
    if (tick % ticks === 0) samples.push([...run.y])
    if (outcome !== undefined) break
    outcome = run.step()
  }
  if (outcome.outcome !== 'finished') throw new Error(`our run ended as ${outcome.outcome}.`)
  return { line, samples, evaluations: outcome.summary.solver.evaluations }
}

/** Largest difference, over all spans and samples, of F = EA (L - m)/m, N. */
function tensionError(
  { spans, tape }: Line,
  samples: readonly (readonly number[])[],
  exact: readonly (readonly number[])[],
): number {
  if (samples.length !== exact.length) throw new Error(`${samples.length} samples against ${exact.length}.`)
  const { stiffness } = tape.materials[0]
  let worst = 0
  for (const [k, sample] of samples.entries()) {
    for (let j = 0; j < spans.count; j++) {
      const strainError = (spans.restLength[j] * (sample[j] - exact[k][j])) / exact[k][j] ** 2
      worst = Math.max(worst, stiffness * Math.abs(strainError))
    }
  }
  return worst
}

function command(program: string, args: readonly string[], input: number | 'ignore' = 'ignore'): string {
  const { error, status, stdout, stderr } = spawnSync(program, args, {
    stdio: [input, 'pipe', 'pipe'],
    encoding: 'utf8',
    maxBuffer: 1 << 28,
  })
  if (error) throw new CannotRun(`${program} could not be started.`, { cause: error })
  if (status !== 0) throw new CannotRun(`${program} ended with code ${status}: ${stderr.trim().split('\n').at(-1)}`)
  return stdout
}

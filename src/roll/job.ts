/** The whole of a roll in one call, as the command line and the page's workers do it: read, wound, judged, advised. */
import type { Channel } from '../run/record'
import { readDocument } from '../scenario/read'
import { searchAdvice, type Advice } from './advice'
import { assess, type Finding } from './assess'
import { rollInput, windingOf, type RollInput } from './input'
import { fewerThanWanted } from './shells'
import { solveRoll, type RollOutcome, type RollResult } from './solve'
import { turnsOf, type Turn } from './turns'
import { ringOf, type Ring } from './wound-on'

/** Samples of a simulated run that is put in as a ring: radius of the roll (m) and wound-on tension (N). Plain data. */
export interface Samples {
  readonly radius: readonly number[] | Float64Array
  readonly tension: readonly number[] | Float64Array
  /** false where the run broke off before its end */
  readonly whole?: boolean
}

export interface RollQuestion {
  readonly document: unknown
  readonly run?: Samples | undefined
}

/** What to know before the figures are read. */
export type RollNote = 'no run' | 'run broken off' | 'run beyond' | 'tension assumed' | 'few shells'

export interface RollReport {
  readonly result: RollResult
  readonly findings: readonly Finding[]
  /** for each finding, which way to turn what */
  readonly turns: readonly Turn[][]
  readonly notes: readonly RollNote[]
}

/** As the page's workers do it: nothing is shared between rolls. */
export const rollJob = (_common: undefined) => rollReport
export const adviceJob = (_common: undefined) => rollAdvice

type Refused = Extract<RollOutcome, { outcome: 'refused' }>

/** A roll, its findings and the turns that help. */
export function rollReport(question: RollQuestion): RollReport | Refused {
  const input = inputOf(question)
  if ('outcome' in input) return input
  const result = solveRoll(input, question.document)
  if (result.outcome === 'refused') return result
  const findings = assess(result)
  return { result, findings, turns: turnsOf(input, findings), notes: notesOf(input, question.run) }
}

function notesOf(input: RollInput, run: Samples | undefined): RollNote[] {
  const { rings, ringAt, fullRadius } = input
  const noted: readonly (readonly [RollNote, boolean])[] = [
    ['no run', ringAt !== undefined && rings.length === 0],
    ['run broken off', rings.length > 0 && run?.whole === false],
    ['run beyond', rings.some(({ radius }) => radius[radius.length - 1] > fullRadius)],
    ['tension assumed', input.tensionAssumed],
    ['few shells', fewerThanWanted(windingOf(input))],
  ]
  return noted.flatMap(([note, is]) => (is ? [note] : []))
}

/** The search for a better taper, one setting at a time; undefined where the roll itself is refused. */
function* rollAdvice(question: RollQuestion): Generator<number, Advice | undefined> {
  const input = inputOf(question)
  return 'outcome' in input ? undefined : yield* searchAdvice(input)
}

function inputOf({ document, run }: RollQuestion) {
  const reading = readDocument(document)
  if (!reading.ok) return { outcome: 'refused', problems: reading.problems } satisfies Refused
  const { scenario } = reading
  const rewind = scenario.line.find((part) => part.part === 'rewind')
  const at = rewind?.ringAt === undefined ? undefined : rewind.ringAt / 2
  const rings: Ring[] = run === undefined || run.radius.length < 2 ? [] : [ringOf(run.radius, run.tension, at)]
  return rollInput(scenario, document, rings)
}

/** Whether a scenario asks for its run to be put into the roll. */
export const wantsRun = (document: unknown): boolean => {
  const reading = readDocument(document)
  return reading.ok && reading.scenario.line.some((part) => part.part === 'rewind' && part.ringAt !== undefined)
}

/** Places of the channels, in a run's list of them, that make a ring: radius of the winder and tension that goes on. */
export function ringChannels(channels: readonly Channel[]): { radius: number; tension: number } | undefined {
  const last = Math.max(...channels.map(({ place }) => place))
  const radius = channels.findIndex(({ group, place }) => group === 'radius' && place === last)
  const lastSpan = channels.reduce((found, { group }, k) => (group === 'tension' ? k : found), -1)
  const winding = channels.findIndex(({ group }) => group === 'winding')
  const tension = winding >= 0 ? winding : lastSpan
  return radius < 0 || tension < 0 ? undefined : { radius, tension }
}

/** A question asked: every run held to its own limit, what a stopped or broken search leaves behind, and both ends of a range. */
import { expect, test, vi } from 'vitest'
import { Question, type AskDesk } from '../../src/app/ask/question.svelte'
import { withValue, type Json, type Path } from '../../src/app/state/document'
import { runDocument } from '../../src/tune/run-document'
import type { JobAnswer } from '../../workers/job-service'
import { JobService } from '../../workers/job-service'
import { jobs } from '../../workers/jobs'
import { Pool } from '../../workers/pool'
import { shortLine } from '../headless/line'

/** What a worker answers instead of computing; undefined: it computes. */
type Instead = (name: string, index: number) => JobAnswer | Promise<JobAnswer> | undefined

const never = new Promise<JobAnswer>(() => undefined)
const plainLine = JSON.parse(JSON.stringify(shortLine)) as Json

/** A pool whose workers compute in this thread. */
function poolOf(instead: Instead): Pool<typeof jobs> {
  const clock = { now: () => 0, pause: () => Promise.resolve() }
  const names = new Map<number, string>()
  const counts = new Map<number, number>()
  return new Pool<typeof jobs>(
    () => {
      const service = new JobService(jobs, () => undefined, clock)
      return {
        ready: Promise.resolve(),
        begin: (job, name, common) => {
          names.set(job, name)
          service.begin(job, name, common)
        },
        compute: async (call, job, input) => {
          const index = counts.get(job) ?? 0
          counts.set(job, index + 1)
          return (await instead(names.get(job) ?? '', index)) ?? service.compute(call, job, input)
        },
        end: (job) => service.end(job),
        close: () => undefined,
      }
    },
    1,
    () => 0,
  )
}

function finished(): AskDesk['run'] {
  const work = runDocument(plainLine)
  let step = work.next()
  while (step.done !== true) step = work.next()
  if (step.value.outcome !== 'finished') throw new Error('the line cannot be run')
  return { result: step.value }
}
const run = finished()

function questionOf(path: Path, figure: string, instead: Instead = () => undefined, document: Json = plainLine) {
  const put: unknown[] = []
  const work = { document, set: (_: Path, value: unknown) => void put.push(value) }
  const desk: AskDesk = { run, look: { system: 'metric' }, work, pool: poolOf(instead) }
  return { question: new Question(desk, path, () => figure), put }
}

const ended = (asked: { readonly computing: boolean }) => vi.waitFor(() => expect(asked.computing).toBe(false), 100_000)

async function swept(...args: Parameters<typeof questionOf>) {
  const made = questionOf(...args)
  made.question.start()
  await ended(made.question.sweep)
  return made
}

const presentLimit = (figure: string) => questionOf(['limits', 'leastTension'], figure).question.limit?.limit ?? NaN

test('a thinner film may have less tension: each row is held to the limit of its own run', async () => {
  const { question } = await swept(['films', 'A', 'thickness'], 'greatest tension')
  const present = presentLimit('greatest tension')
  expect(question.rows.length).toBeGreaterThan(10)
  for (const { x, limit } of question.rows) expect(limit).toBeCloseTo((present * x) / 36e-6, 6)
  expect(question.limits?.[0]).toBeLessThan(question.limits?.[1] ?? 0)
  // Typed, it is the same for all, until it is taken away.
  question.setLimit(50)
  expect(question.rows.every(({ limit, figure, kept }) => limit === 50 && kept === (figure ?? 0) <= 50)).toBe(true)
  expect(question.limits).toBeUndefined()
  question.setLimit()
  expect(question.limits).toBeDefined()
})

test('the limit itself asked about: kept by the values that the run keeps', async () => {
  const { question } = await swept(['limits', 'leastTension'], 'least tension')
  expect(question.setEnd('high', 1000)).toBe('')
  await ended(question.sweep)
  for (const { x, figure, kept } of question.rows) expect(kept).toBe((figure ?? NaN) >= x)
  question.findLimit()
  await ended(question.search)
  const least = question.rows[0]?.figure ?? NaN
  const [offer] = question.offers
  expect(offer?.word).toBe('largest')
  expect(offer?.value).toBeLessThanOrEqual(least)
  expect(offer?.value).toBeGreaterThan(least - 2)

  const share = await swept(['limits', 'shareOfElastic'], 'share of elastic limit')
  for (const { x, figure, kept } of share.question.rows) expect(kept).toBe((figure ?? NaN) <= x)
})

const force: Path = ['line', 4, 'force']
/** A limit that the dancer's force crosses within its range. */
const middle = (question: Question) => {
  const figures = question.rows.flatMap(({ figure }) => figure ?? [])
  return (Math.min(...figures) + Math.max(...figures)) / 2
}

test('stopped before all values were run: that is said, and no limit can be looked for', async () => {
  const { question } = questionOf(force, 'greatest tension', (_, index) => (index > 3 ? never : undefined))
  question.start()
  await vi.waitFor(() => expect(question.rows.filter(({ figure }) => figure !== null).length).toBe(4), 100_000)
  expect(question.isStopped).toBe(false)
  question.stop()
  expect(question.isStopped).toBe(true)
  question.setLimit(middle(question))
  expect(question.canFind).toBe(false)
  question.findLimit()
  expect([question.search.computing, question.found, question.stretches]).toEqual([false, false, undefined])
})

test('a stopped search does not leave the answer of another question, and neither does one that broke off', async () => {
  let instead: Instead = () => undefined
  const { question } = await swept(force, 'greatest tension', (...args) => instead(...args))
  question.setLimit(middle(question))
  question.findLimit()
  await ended(question.search)
  expect(question.offers.length).toBe(1)

  const other = middle(question) * 1.05
  instead = () => never
  question.setLimit(other)
  question.findLimit()
  question.stop()
  expect([question.found, question.crossings, question.offers, question.stretches]).toEqual([false, [], [], undefined])

  instead = () => ({ ok: true, value: { found: 'broken', value: 100, say: 'The film tore.' } })
  question.findLimit()
  await ended(question.search)
  expect([question.found, question.offers, question.stretches]).toEqual([false, [], undefined])
  expect(question.trouble).toMatch(/^The limit was not found, since the run at 100 N gave no answer: The film tore\.$/)

  instead = () => ({ ok: false, say: 'It took too long.' })
  question.findLimit()
  await ended(question.search)
  expect(question.trouble).toBe('The limit was not found: It took too long.')

  instead = () => undefined
  question.findLimit()
  await ended(question.search)
  expect([question.trouble, question.offers.length]).toEqual(['', 1])
})

test('what is offered is written as it is said, and the run with it keeps the limit', async () => {
  const { question, put } = await swept(force, 'greatest tension')
  question.setLimit(middle(question))
  question.findLimit()
  await ended(question.search)
  const [offer] = question.offers
  if (!offer) throw new Error('nothing is offered')
  question.put(offer.value, 10)
  expect(put).toEqual([`${Number(offer.value.toPrecision(10))} N`])
  const beyond = question.crossings[0]?.beyond ?? NaN
  expect(offer.word === 'largest' ? offer.value < beyond : offer.value > beyond).toBe(true)
})

test('without a usual range the line is run when both ends are stated, whichever comes first', async () => {
  // The core's ratio has no usual range, and twice of 0 is none either.
  const tube: Path = ['line', 6, 'coreTube']
  const document = withValue(plainLine, tube, { bore: '76.2 mm', modulus: '4 GPa', poisson: 0 })
  for (const [first, second] of [
    ['high', 'low'],
    ['low', 'high'],
  ] as const) {
    const { question } = questionOf([...tube, 'poisson'], 'greatest tension', undefined, document)
    expect(question.extent).toBeUndefined()
    const ends = { low: 0.1, high: 0.4 }
    expect(question.setEnd(first, ends[first])).toBe('')
    expect([question.ends, question.extent]).toEqual([{ [first]: ends[first] }, undefined])
    expect([question.rows.length, question.sweep.computing]).toEqual([0, false])
    expect(question.setEnd(second, ends[second])).toBe('')
    await ended(question.sweep)
    expect([question.rows[0]?.x, question.rows.at(-1)?.x]).toEqual([0.1, 0.4])
  }
  const { question } = questionOf(['limits', 'leastTension'], 'least tension')
  expect(question.setEnd('low', 1e6)).toBe('expected the lower end below the upper one.')
})

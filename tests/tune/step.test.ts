/** A step of a set point, on the simulator and on the linear line: alike where nothing but the linear line is at work, and not else. */
import { describe, expect, test } from 'vitest'
import { readDocument } from '../../src/scenario/read'
import { askStep, type StepAnswer, type StepQuestion } from '../../src/tune/step'
import { dancer, documentOf, nip, rewind, span, trim, unwind, type Entry } from '../line/rig'

const QUESTION: StepQuestion = { point: {}, dancer: 'dancer', by: 1e-3, for: 6 }

function line(program: Entry | undefined, changes: Entry = {}): unknown {
  return documentOf({
    line: [
      ...[unwind(100, { drive: { kind: 'lag', lag: '100 ms' } }), span(0.5, 1e-3)],
      dancer('dancer', { damping: '20 N s/m', ...changes }),
      ...[span(0.5, 1e-3), nip('nip'), span(0.5, 1e-3), rewind()],
    ],
    control: [
      trim('dancer', 'unwind', {
        ...{ gain: '2 1/s', integral: '0.8 1/s^2', ...(program === undefined ? {} : { program }) },
      }),
    ],
    ...{ speed: 0.5, tick: 0.01 },
  })
}

function stepped(document: unknown, question = QUESTION): StepAnswer {
  const work = askStep(document)(question)
  const shares: number[] = []
  for (let next = work.next(); ; next = work.next()) {
    if (next.done !== true) shares.push(next.value)
    else {
      if (!next.value.ok) throw new Error(next.value.say)
      shares.forEach((share, k) => expect(share).toBeGreaterThanOrEqual(shares[k - 1] ?? 0))
      return next.value
    }
  }
}

/** Largest difference of the linear line from the simulator at the simulator's times, as a share of the largest answer. */
function apart({ time, position, tension, linear }: StepAnswer, what: 'position' | 'tension'): number {
  if (linear === undefined) throw new Error('no linear answer')
  const [seen, wanted] = [what === 'position' ? position : tension, linear[what]]
  let [largest, worst] = [0, 0]
  time.forEach((t, k) => {
    const i = linear.time.findIndex((at) => at >= t - 1e-9)
    largest = Math.max(largest, Math.abs(seen[k]))
    // the simulator's set point takes 10 ms to move, the linear one jumps: half of that lies between them
    if (t >= 0 && i >= 0) worst = Math.max(worst, Math.abs(seen[k] - wanted[i]))
  })
  return worst / largest
}

describe('a step of a set point', () => {
  test.each([['continuous', undefined] as const, ['program', { sample: '20 ms', filter: '20 ms' }] as const])(
    '%s: the simulator does what the linear line says, to 2 parts in 100 of the step',
    (_, program) => {
      const answer = stepped(line(program))
      expect(answer.position.at(-1)).toBeGreaterThan(0.9e-3)
      expect(apart(answer, 'position')).toBeLessThan(0.02)
    },
  )

  test('friction of the dancer shows in the tension of the simulator and not on the linear line', () => {
    const [smooth, rough] = ['0 N', '4 N'].map((slidingFriction) => stepped(line(undefined, { slidingFriction })))
    expect(rough.linear?.tension).toEqual(smooth.linear?.tension)
    // film leads the dancer: its place is the same, but each of two strands carries half the friction
    expect(apart(rough, 'position')).toBeLessThan(0.02)
    expect(Math.max(...rough.tension.map(Math.abs))).toBeGreaterThan(1.9)
    expect(Math.max(...smooth.tension.map(Math.abs))).toBeLessThan(0.5)
  })

  test('at another point of the line, and at a larger step: the linear answer grows with it', () => {
    const [one, ten] = [1e-3, 1e-2].map((by) => stepped(line(undefined), { ...QUESTION, by, point: { speed: 0.3 } }))
    const peak = ({ linear }: StepAnswer) => Math.max(...(linear?.position ?? []))
    expect(peak(ten) / peak(one)).toBeCloseTo(10, 6)
    expect(peak(one)).toBeGreaterThan(1e-3)
  })

  test('a loop that swings up has no linear answer, but the run shows what it does; another dancer is told', () => {
    const wild = line({ sample: '200 ms', delayed: true })
    const document = JSON.parse(JSON.stringify(wild).replace('2 1/s', '9 1/s')) as unknown
    expect(readDocument(document).ok).toBe(true)
    const answer = stepped(document)
    expect(answer.linear).toBeUndefined()
    expect(Math.max(...answer.position.map(Math.abs))).toBeGreaterThan(2e-3)
    expect(() => stepped(wild, { ...QUESTION, dancer: 'none' })).toThrow('no dancer "none"')
  })
})

import fc from 'fast-check'
import { expect, test } from 'vitest'
import { turnOf } from '../../src/app/keys'
import { mostSteps, noHistory, pauseWithin, recorded, redone, undone, type History } from '../../src/app/state/history'
import { differences, withValue, type Json } from '../../src/app/state/document'
import { placeWords } from '../../src/app/fields/words'
import { RunState } from '../../src/app/state/run.svelte'
import { Work } from '../../src/app/state/work.svelte'
import type { Scenario } from '../../src/app/state/scenario'

/** A runner that only notes what it is given. */
function workbench() {
  const documents: unknown[] = []
  const run = (document: unknown) => {
    documents.push(document)
    return Promise.resolve({ outcome: 'cancelled' as const })
  }
  const clock = { now: 0 }
  const nothing = () => undefined
  const work = new Work(new RunState({ run, cancel: nothing, dispose: nothing }), () => clock.now)
  return { work, documents, clock }
}

const document: Json = {
  title: 'A?',
  films: { A: { thickness: '36 µm' } },
  line: [
    { part: 'unwind', name: 'unwind' },
    { part: 'span', length: '1 m' },
    { part: 'dancer', name: 'infeed dancer', stiffness: '0 N/m' },
  ],
  control: [{ control: 'position trim', measures: 'infeed dancer', gain: '1 1/s' }],
  speed: { start: '6 m/min' },
  stage: [{ at: '3 s', do: 'stop' }],
  run: { for: '20 s' },
}
const scenario: Scenario = { key: 'a', title: 'A?', about: '', document }
const stiffness = ['line', 2, 'stiffness']
const thickness = ['films', 'A', 'thickness']

test('every change is one step, and all of them lead back to the start and forth again', () => {
  const { work, clock, documents } = workbench()
  work.choose(scenario)
  work.set(thickness, '25 µm')
  clock.now += 100
  work.set(stiffness, '40 N/m')
  clock.now += 100
  work.restore(thickness)
  clock.now += 100
  work.restoreAll()
  const other: Scenario = { ...scenario, key: 'b', title: 'B?' }
  work.choose(other)
  const said: string[] = []
  const states: unknown[] = [work.held]
  while (work.undoes !== '') {
    said.push(work.undoes)
    work.undo()
    states.push(work.held)
  }
  expect(said).toEqual([
    'opening “B?”',
    'putting back all changes',
    'putting back film A thickness',
    'infeed dancer stiffness',
    'film A thickness',
  ])
  expect([work.chosen, work.document]).toEqual([scenario, document])
  expect(work.document).toBe(document)
  expect(documents.at(-1)).toBe(document)
  for (const state of states.toReversed().slice(1)) {
    work.redo()
    expect(work.held).toBe(state)
  }
  expect(work.redoes).toBe('')
  expect(work.chosen).toBe(other)
})

test('a change after steps back lets go of what could have been done again', () => {
  const { work } = workbench()
  work.choose(scenario)
  work.set(thickness, '25 µm')
  work.undo()
  work.set(stiffness, '40 N/m')
  expect(work.redoes).toBe('')
  work.redo()
  expect(differences(document, work.document)).toEqual([stiffness])
})

test('a field stepped or dragged without a pause makes one step; another field, or a pause, begins the next', () => {
  const { work, clock } = workbench()
  work.choose(scenario)
  for (const text of ['30 µm', '29 µm', '28 µm']) {
    work.set(thickness, text)
    clock.now += pauseWithin
  }
  clock.now += 1
  work.set(thickness, '20 µm')
  work.set(stiffness, '1 N/m')
  expect(work.history.past.map(({ words }) => words)).toEqual([
    'film A thickness',
    'film A thickness',
    'infeed dancer stiffness',
  ])
  work.undo()
  work.undo()
  expect(differences(work.document, withValue(document, thickness, '28 µm'))).toEqual([])
})

test('an event dragged by whole documents makes one step, and names it', () => {
  const { work, clock } = workbench()
  work.choose(scenario)
  for (const at of ['3.1 s', '3.2 s', '3.3 s']) {
    work.replace(withValue(work.document, ['stage', 0, 'at'], at))
    clock.now += 50
  }
  work.replace(withValue(work.document, ['stage'], []), 'taking away stop')
  expect(work.history.past.map(({ words }) => words)).toEqual(['stop begins at', 'taking away stop'])
  work.undo()
  work.undo()
  expect(work.document).toBe(document)
})

test('what changes nothing is no step, and reruns nothing', () => {
  const { work, documents } = workbench()
  work.choose(scenario)
  work.set(thickness, '36 µm')
  work.replace(structuredClone(document))
  work.restoreAll()
  expect([work.undoes, documents.length]).toEqual(['', 1])
})

test('changed is found by comparison, also after a whole document was replaced', () => {
  const { work } = workbench()
  work.choose(scenario)
  work.replace({ ...document, stage: [], run: { for: '20 s', tick: '1 ms' } })
  expect([...work.changed.keys()]).toEqual(['stage', 'run/tick'])
  work.restore(['stage'])
  work.restore(['run', 'tick'])
  expect(work.changed.size).toBe(0)
})

test('the steps held are bounded, the newest stay', () => {
  let history: History<number> = noHistory
  for (let i = 0; i < mostSteps + 20; i++) history = recorded(history, { words: `${i}`, key: `${i}`, at: 0, state: i })
  expect([history.past.length, history.past[0]?.state]).toEqual([mostSteps, 20])
})

test('however steps are taken back and forth, the state is the one that stands there', () => {
  fc.assert(
    fc.property(fc.array(fc.integer({ min: 0, max: 3 }), { maxLength: 60 }), (acts) => {
      let history: History<number> = noHistory
      let [present, made] = [0, 0]
      const line = [0]
      let here = 0
      for (const act of acts) {
        const turn = act === 0 ? undone(history, present) : act === 1 ? redone(history, present) : undefined
        if (turn) {
          history = turn.history
          present = turn.state
          here += act === 0 ? -1 : 1
        } else if (act > 1) {
          history = recorded(history, { words: '', key: '', at: 0, state: present })
          present = ++made
          line.splice(++here, Infinity, present)
        }
        expect(present).toBe(line[here])
        expect([history.past.length, history.future.length]).toEqual([here, line.length - 1 - here])
      }
    }),
  )
})

test('places are named as people call them', () => {
  const said = [thickness, stiffness, ['line', 1, 'length'], ['control', 0, 'gain'], ['speed', 'start'], ['run', 'for']]
  expect(said.map((path) => placeWords(document, path))).toEqual([
    'film A thickness',
    'infeed dancer stiffness',
    'span unwind → infeed dancer length',
    'position trim of infeed dancer gain',
    'line speed',
    'run length',
  ])
})

test('the keys of undo and redo', () => {
  const press = (key: string, ...held: ('ctrlKey' | 'metaKey' | 'shiftKey' | 'altKey')[]) => {
    const none = { ctrlKey: false, metaKey: false, shiftKey: false, altKey: false }
    return turnOf({ key, ...none, ...Object.fromEntries(held.map((name) => [name, true])) })
  }
  expect([press('z', 'ctrlKey'), press('Z', 'metaKey')]).toEqual(['undo', 'undo'])
  expect([press('Z', 'ctrlKey', 'shiftKey'), press('y', 'ctrlKey')]).toEqual(['redo', 'redo'])
  expect([press('z'), press('z', 'ctrlKey', 'altKey'), press('x', 'ctrlKey')]).toEqual([
    undefined,
    undefined,
    undefined,
  ])
})

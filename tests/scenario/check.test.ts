/** Fields that do not go together: which one is named, and what is said. */
import { describe, expect, test } from 'vitest'
import { readDocument } from '../../src/scenario/read'
import { problemsIn, sample, spoilt, type Json } from './sample'

const problems = (document: Json) => problemsIn(readDocument(document))
const said = (document: Json) => problems(document).map(({ say }) => say)

/** What is put where, one after the other, and the one sentence that must come of it. */
type Case = [title: string, changes: Record<string, Json | undefined>, sentence: string]

const changed = (changes: Record<string, Json | undefined>): Json =>
  Object.entries(changes).reduce<Json>((document, [path, value]) => spoilt(path, value, document), sample())

const line = sample()['line'] as Json[]
const stage = sample()['stage'] as Record<string, Json>[]
const splice = stage[1] ?? {}
const [unwind, span, idler] = line as [Json, Json, Json]
const rewind = line.at(-1) as Json
const flying: Json = { at: '5 s', do: 'flying splice', film: 'A', roll: splice['roll'] ?? {} }
const ramp = (at: string, to: string): Json => ({ at, do: 'speed', to, in: '2 s' })

const partCases: Case[] = [
  [
    'two parts of one name',
    { 'line/2/name': 'nip 1' },
    'line/8 nip 1/name: found "nip 1", expected a name that no other part has. The part at line/2 is called so too.',
  ],
  [
    'no unwind',
    { line: [idler, span, rewind], control: [] },
    'line: found "idler" there, expected a line that begins with an "unwind".',
  ],
  [
    'no rewind',
    { line: [unwind, span, idler], control: [] },
    'line: found "idler" there, expected a line that ends with a "rewind".',
  ],
  [
    'a second unwind',
    { line: [unwind, span, spoilt('name', 'other', unwind), span, idler, span, rewind], control: [] },
    'line/2 other/part: found "unwind", expected an unwind at the beginning of the line only.',
  ],
  [
    'a rewind amid',
    { line: [unwind, span, spoilt('name', 'other', rewind), span, idler, span, rewind], control: [] },
    'line/2 other/part: found "rewind", expected a rewind at the end of the line only.',
  ],
  [
    'no rollers',
    { line: [unwind, span, rewind], control: [] },
    'line: found no rollers, expected at least one roller between unwind and rewind. An idler will do.',
  ],
  [
    'two spans together',
    { line: [unwind, span, span, idler, span, rewind], control: [] },
    'line/2 span/part: found "span", expected exactly one span between two rollers. Put the lengths together in one span.',
  ],
  [
    'no span',
    { line: [unwind, idler, span, rewind], control: [] },
    'line/1 idler 1/part: found "idler", expected a span before it. Between two rollers, or a roller and a bar, lies one span.',
  ],
  ['unknown film', { 'line/0/film': 'foil' }, 'line/0 unwind/film: found "foil", expected one of the films "A".'],
  [
    'a roll smaller than its core',
    { 'line/0/diameter': '80 mm' },
    'line/0 unwind/diameter: found "80 mm", expected a roll larger than its core, which is 90 mm.',
  ],
  [
    'a roll as large as its core',
    { 'line/0/diameter': '90 mm' },
    'line/0 unwind/diameter: found "90 mm", expected a roll larger than its core, which is 90 mm.',
  ],
  [
    'a rewind smaller than its core',
    { 'line/10/diameter': '3 in' },
    'line/10 rewind/diameter: found "3 in", expected a roll no smaller than its core, which is 90 mm.',
  ],
  [
    'a full roll smaller than the roll',
    { 'line/10/drive/fullDiameter': '100 mm' },
    'line/10 rewind/drive/fullDiameter: found "100 mm", expected a full roll larger than the roll at the start, 120 mm.',
  ],
  [
    'a roll larger than the full roll that stands by default',
    { 'line/10/diameter': '500 mm', 'line/10/drive/law': 'linear' },
    'line/10 rewind/drive/fullDiameter: found nothing, which means 400 mm, expected a full roll larger than the roll at the start, 500 mm.',
  ],
  [
    'lower stop above the upper',
    { 'line/4/lowerStop': '100 mm' },
    'line/4 infeed dancer/lowerStop: found "100 mm", expected a stop below the upper one, 90 mm.',
  ],
  [
    'set point outside the stops',
    { 'line/4/setPoint': '-95 mm' },
    'line/4 infeed dancer/setPoint: found "-95 mm", expected a position between the stops, -90 mm to 90 mm.',
  ],
  [
    'set point outside the stops by default',
    { 'line/4/lowerStop': '10 mm' },
    'line/4 infeed dancer/setPoint: found nothing, which means 0 mm, expected a position between the stops, 10 mm to 90 mm.',
  ],
  [
    'spring outside the stops',
    { 'line/4/stiffness': '100 N/m', 'line/4/springZero': '2 m' },
    'line/4 infeed dancer/springZero: found "2 m", expected a position between the stops, -90 mm to 90 mm. What a spring pushes beyond that belongs into "force".',
  ],
  [
    'a dancer that the film does not wrap',
    { 'line/4/wrap': '0 deg' },
    'line/4 infeed dancer/wrap: found "0 deg", expected a wrap above 0 deg and below 360 deg. Without it the film cannot move the dancer.',
  ],
  [
    'a stop that uses up a span',
    { 'line/4/lowerStop': '-600 mm' },
    'line/4 infeed dancer/lowerStop: found "-600 mm", expected a stop above -500 mm. The span at line/3 would be used up there.',
  ],
  [
    'an idler that rides nothing',
    { 'line/2/rides': 'nip 1' },
    'line/2 idler 1/rides: found "nip 1", expected one of the dancers "infeed dancer".',
  ],
]

const controlCases: Case[] = [
  [
    'measures no dancer',
    { 'control/0/measures': 'idler 1' },
    'control/0 position trim/measures: found "idler 1", expected one of the dancers "infeed dancer".',
  ],
  [
    'measures a dancer of nearly that name',
    { 'control/0/measures': 'infeed dancr' },
    'control/0 position trim/measures: found "infeed dancr", expected one of the dancers "infeed dancer". Did you mean "infeed dancer"?',
  ],
  [
    'drives an idler',
    { 'control/0/drives': 'idler 1' },
    'control/0 position trim/drives: found "idler 1", expected one of the driven parts "unwind", "nip 1", "rewind".',
  ],
  [
    'drives a brake',
    { 'line/0/drive': { kind: 'brake', torque: '5 N m' }, stage: [] },
    'control/0 position trim/drives: found "unwind", expected a part whose drive follows speed. Its drive is of kind "brake": give it "ideal", "lag" or "servo".',
  ],
  [
    'drives a torque drive',
    { 'control/0/drives': 'rewind' },
    'control/0 position trim/drives: found "rewind", expected a part whose drive follows speed. Its drive is of kind "torque": give it "ideal", "lag" or "servo".',
  ],
  [
    'drives what is driven',
    { control: [...(sample()['control'] as Json[]), ...(sample()['control'] as Json[])] },
    'control/1 position trim/drives: found "unwind", expected a part that no other control drives. Control/0 drives it too.',
  ],
]

const stageCases: Case[] = [
  [
    'after the end',
    { 'stage/1/at': '30 s' },
    'stage/1 zero-speed splice/at: found "30 s", expected a time before the end of the run, 30 s.',
  ],
  [
    'out of order',
    { stage: [splice, ramp('1 s', '25 m/min')] },
    'stage/1 speed/at: found "1 s", expected a time no earlier than that of the event before it, 5 s. List events in time order.',
  ],
  [
    'a splice while line speed changes',
    { 'stage/1/at': '2.5 s' },
    'stage/1 zero-speed splice/at: found "2.5 s", expected a time from 3 s on, when the event before it is over.',
  ],
  [
    'a ramp before the splice is over',
    { stage: [splice, ramp('8 s', '25 m/min')] },
    // 1 s down, 1 s hold, 1.2 s up to 20 % over, (1.96/0.2) s refilling, 0.2 s back
    'stage/1 speed/at: found "8 s", expected a time from 18.2 s on, when the event before it is over.',
  ],
  [
    'two ramps at once',
    { stage: [ramp('1 s', '25 m/min'), ramp('2 s', '20 m/min')] },
    'stage/1 speed/at: found "2 s", expected a time from 3 s on, when the event before it is over.',
  ],
  [
    'a flying splice within a zero-speed one',
    { stage: [splice, { ...flying, at: '6 s' }] },
    'stage/1 flying splice/at: found "6 s", expected a time from 18.2 s on, when the event before it is over.',
  ],
  [
    'unknown film',
    { 'stage/1/film': 'foil' },
    'stage/1 zero-speed splice/film: found "foil", expected one of the films "A".',
  ],
  [
    'a roll smaller than its core',
    { 'stage/1/roll/diameter': '80 mm' },
    'stage/1 zero-speed splice/roll/diameter: found "80 mm", expected a roll larger than its core, which is 90 mm.',
  ],
  [
    'a first span that vanishes',
    { 'stage/1/roll/spanChange': '-700 mm' },
    'stage/1 zero-speed splice/roll/spanChange: found "-700 mm", expected a change that leaves something of the first span, 700 mm long.',
  ],
  [
    'a zero-speed splice on a brake',
    { 'line/0/drive': { kind: 'brake', torque: '5 N m' }, control: [] },
    'stage/1 zero-speed splice/do: found "zero-speed splice", expected an unwind whose drive follows speed for a zero-speed splice. A brake cannot stop and start the roll on command: use a flying splice, or another drive.',
  ],
  [
    'a splice on a line at rest',
    { 'speed/start': '0 m/min', stage: [splice] },
    'stage/0 zero-speed splice/do: found "zero-speed splice", expected a running line, but it stands then. Put it at a time at which the line runs.',
  ],
  [
    'a flying splice on a line at rest',
    { 'speed/start': '0 m/min', stage: [flying] },
    'stage/0 flying splice/do: found "flying splice", expected a running line, but it stands then. Put it at a time at which the line runs.',
  ],
  [
    'a start of a running line',
    { 'stage/0/do': 'start' },
    'stage/0 start/do: found "start", expected a line at rest, but it runs at 20 m/min then. To change the speed of a running line use "speed".',
  ],
  [
    'a stop of a line at rest',
    { 'speed/start': '0 m/min', stage: [{ at: '1 s', do: 'stop' }] },
    'stage/0 stop/do: found "stop", expected a running line, but it stands then. Take the event out.',
  ],
  [
    'another speed for a line at rest',
    { 'speed/start': '0 m/min' },
    'stage/0 speed/do: found "speed", expected a running line, but it stands then. To set it going use "start".',
  ],
]

const runCases: Case[] = [
  [
    'too many ticks',
    { 'run/for': '20000 s', 'run/tick': '1 ms' },
    'run/tick: found "1 ms", expected at least 20 ms for a run of this length. A run has at most 1000000 ticks: take a longer tick or a shorter run.',
  ],
  [
    'too many ticks by default',
    { 'run/for': '20000 s' },
    'run/tick: found nothing, which means 10 ms, expected at least 20 ms for a run of this length. A run has at most 1000000 ticks: take a longer tick or a shorter run.',
  ],
]

describe.each([
  ['the line', partCases],
  ['control', controlCases],
  ['the stage', stageCases],
  ['the run', runCases],
])('%s', (_, cases) => {
  test.each(cases)('%s', (_title, changes, sentence) => {
    expect(said(changed(changes))).toEqual([sentence])
  })
})

describe('what is not refused', () => {
  test.each<[string, Record<string, Json | undefined>]>([
    ['an empty core on the rewind', { 'line/10/diameter': '90 mm' }],
    ['a full diameter that a constant tension does not use', { 'line/10/diameter': '500 mm' }],
    ['a spring at rest outside the stops without stiffness', { 'line/4/springZero': '2 m' }],
    ['events that follow each other without a gap', { stage: [ramp('1 s', '25 m/min'), ramp('3 s', '20 m/min')] }],
    ['a flying splice while line speed changes', { stage: [ramp('4 s', '25 m/min'), flying] }],
    ['a flying splice at the instant at which a ramp begins', { stage: [flying, ramp('5 s', '25 m/min')] }],
    [
      'a flying splice on a brake',
      { 'line/0/drive': { kind: 'brake', torque: '5 N m' }, control: [], stage: [flying] },
    ],
    [
      'stop, stand, start',
      {
        stage: [
          { at: '1 s', do: 'stop', in: '2 s' },
          { ...(ramp('3 s', '20 m/min') as object), do: 'start' },
        ],
      },
    ],
    ['an idler that rides on a dancer', { 'line/2/rides': 'infeed dancer' }],
    ['no film used but listed', { 'films/B': (sample()['films'] as Record<string, Json>)['A'] }],
    ['a run without events or control', { stage: [], control: [] }],
  ])('%s', (_, changes) => {
    expect(said(changed(changes))).toEqual([])
  })
})

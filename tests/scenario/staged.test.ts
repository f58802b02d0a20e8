/** Index feeds, tapers, trims and the events that change settings: what does not go together is refused by field, with a sentence. */
import { describe, expect, test } from 'vitest'
import { said, sample, spoilt, type Json } from './sample'

type Case = [title: string, changes: Record<string, Json | undefined>, sentence: string]

const changed = (changes: Record<string, Json | undefined>): Json =>
  Object.entries(changes).reduce<Json>((document, [path, value]) => spoilt(path, value, document), sample())

const feed = { pattern: 'trapezoid', pitch: '200 mm', move: '0.5 s', ramp: '0.1 s' }
const table = (...points: [number, number][]): Json => ({
  pattern: 'table',
  pitch: '200 mm',
  move: '0.5 s',
  table: points,
})
/** 20 m/min: a pitch of 200 mm takes 0.6 s */
const indexed = { 'line/8/index': feed }
const change = (at: string, to: string, roller = 'nip 1'): Json => ({ at, do: 'changeover', roller, to, in: '0.2 s' })
const ramp = (at: string, to: string): Json => ({ at, do: 'speed', to, in: '2 s' })
const event = (what: string, more: Record<string, Json>): Json => ({ at: '1 s', do: what, ...more })
const position = (sample()['control'] as Json[])[0] ?? null
const tension = { control: 'tension trim', measures: 'idler 1', tension: '60 N' }
const byTorque = { ...tension, drives: 'rewind', kind: 'torque', gain: '20 %' }
const bySpeed = { ...tension, drives: 'unwind', kind: 'speed', gain: '0.01 m/min/N' }
const forceTaper = { control: 'force taper', measures: 'rewind', drives: 'infeed dancer', tension: '60 N' }
const core = { diameter: '100 mm', core: '90 mm' }

const feedCases: Case[] = [
  [
    'an index move longer than its cycle',
    { 'line/8/index': { ...feed, move: '0.7 s' }, stage: [] },
    'line/8 nip 1/index/move: found "0.7 s", expected a move within its cycle, which at the line\'s speed is 0.6 s.',
  ],
  [
    'a move longer than the cycle at the speed of the changeover',
    { ...indexed, stage: [ramp('1 s', '25 m/min'), change('4 s', 'indexing')] },
    'stage/1 changeover/do: found "changeover", expected a cycle of at least the move, 0.5 s, but at this line speed it is 0.48 s. Lower the line speed, shorten the move, or lengthen the pitch.',
  ],
  [
    'a ramp longer than half of the move',
    { 'line/8/index': { ...feed, ramp: '0.3 s' }, stage: [] },
    'line/8 nip 1/index/ramp: found "0.3 s", expected at most half of the move, 0.5 s.',
  ],
  [
    'a table out of order',
    { 'line/8/index': table([0, 0], [0.6, 1], [0.4, 1], [1, 0]), stage: [] },
    'line/8 nip 1/index/table/2/0: found 0.4, expected a time no earlier than the one before it, 0.6. List the table in order.',
  ],
  [
    'a table that turns back',
    { 'line/8/index': table([0, 0], [0.6, -1], [1, 0]), stage: [] },
    'line/8 nip 1/index/table/1/1: found -1, expected a number of at least 0 and at most 1.',
  ],
  [
    'a table that feeds nothing',
    { 'line/8/index': table([0, 0], [0.6, 0], [1, 0]), stage: [] },
    'line/8 nip 1/index/table: found no speed anywhere, expected a table in which the film moves.',
  ],
]

const changeoverCases: Case[] = [
  [
    'of an idler',
    { ...indexed, stage: [change('1 s', 'indexing', 'idler 1')] },
    'stage/0 changeover/roller: found "idler 1", expected one of the indexing rollers "nip 1". A driven roller with an "index" feed can change over.',
  ],
  [
    'of a roller without an index feed',
    { stage: [change('1 s', 'indexing')] },
    'stage/0 changeover/roller: found "nip 1", expected the name of an indexing roller, of which the line has none. A driven roller with an "index" feed can change over.',
  ],
  [
    'of a roller of nearly that name',
    { ...indexed, stage: [change('1 s', 'indexing', 'nip 2')] },
    'stage/0 changeover/roller: found "nip 2", expected one of the indexing rollers "nip 1". Did you mean "nip 1"?',
  ],
  [
    'twice the same way',
    { ...indexed, stage: [change('1 s', 'indexing'), change('3 s', 'indexing')] },
    'stage/1 changeover/to: found "indexing", expected the other feed: nip 1 feeds so already.',
  ],
  [
    'to what it does from the start',
    { ...indexed, stage: [change('1 s', 'continuous')] },
    'stage/0 changeover/to: found "continuous", expected the other feed: nip 1 feeds so already.',
  ],
  [
    'while the line stands',
    { ...indexed, 'speed/start': '0 m/min', stage: [change('1 s', 'indexing')] },
    'stage/0 changeover/do: found "changeover", expected a running line, but it stands then. Change over while it runs.',
  ],
  [
    'before the one before it is over',
    { ...indexed, stage: [change('1 s', 'indexing'), change('1.1 s', 'continuous')] },
    'stage/1 changeover/at: found "1.1 s", expected a time from 1.2 s on, when the event before it is over.',
  ],
  [
    'while line speed changes',
    { ...indexed, stage: [ramp('0.5 s', '19 m/min'), change('1 s', 'indexing')] },
    'stage/1 changeover/at: found "1 s", expected a time from 2.5 s on, when the event before it is over.',
  ],
  [
    'and another line speed while it indexes',
    { ...indexed, stage: [change('1 s', 'indexing'), ramp('3 s', '19 m/min')] },
    'stage/1 speed/do: found "speed", expected a line that feeds continuously while its speed changes. Nip 1 indexes then: change it over to continuous first.',
  ],
  [
    'and a stop while it indexes',
    { ...indexed, stage: [change('1 s', 'indexing'), { at: '3 s', do: 'stop', in: '2 s' }] },
    'stage/1 stop/do: found "stop", expected a line that feeds continuously while its speed changes. Nip 1 indexes then: change it over to continuous first.',
  ],
]

const winder = (drive: Record<string, Json>) => ({
  'line/10/drive': { kind: 'torque', tension: '60 N', ...drive },
})
const taperCases: Case[] = [
  [
    'a table with a share below zero',
    winder({
      law: 'table',
      table: [
        ['90 mm', '100 %'],
        ['200 mm', '-5 %'],
      ],
    }),
    'line/10 rewind/drive/table/1/1: found "-5 %", expected a percentage of at least 0 % and at most 200 %.',
  ],
  [
    'above 100 %',
    winder({ law: 'linear', taper: '120 %' }),
    'line/10 rewind/drive/taper: found "120 %", expected a percentage of at least 0 % and at most 100 %.',
  ],
  [
    'led above 100 %',
    { stage: [event('winding tension', { roller: 'rewind', to: '50 N', taper: '101 %' })] },
    'stage/0 winding tension/taper: found "101 %", expected a percentage of at least 0 % and at most 100 %.',
  ],
  [
    'a tension led below zero',
    { stage: [event('winding tension', { roller: 'rewind', to: '-50 N' })] },
    'stage/0 winding tension/to: found "-50 N", expected a force above 0 N and at most 1000000 N.',
  ],
  [
    'of a part that tapers nothing',
    { stage: [event('winding tension', { roller: 'nip 1', to: '50 N' })] },
    'stage/0 winding tension/roller: found "nip 1", expected one of the tapered parts "rewind".',
  ],
  [
    'a table out of order',
    winder({
      law: 'table',
      table: [
        ['90 mm', '100 %'],
        ['200 mm', '50 %'],
        ['150 mm', '70 %'],
      ],
    }),
    'line/10 rewind/drive/table/2/0: found "150 mm", expected a diameter above the one before it, 200 mm. List the table in order.',
  ],
  [
    'the table law without a table',
    winder({ law: 'table' }),
    'line/10 rewind/drive/table: found nothing, expected a table of diameters and shares of the tension, since the law is "table".',
  ],
  [
    'on a dancer that the line does not have',
    { control: [position, { ...forceTaper, drives: 'idler 1' }] },
    'control/1 force taper/drives: found "idler 1", expected one of the dancers "infeed dancer".',
  ],
  [
    'by the diameter of what is no roll',
    { control: [position, { ...forceTaper, measures: 'nip 1' }] },
    'control/1 force taper/measures: found "nip 1", expected one of the rolls "unwind", "rewind".',
  ],
  [
    'a full roll no larger than the core',
    { control: [{ ...byTorque, law: 'hyperbolic', fullDiameter: '80 mm' }] },
    'control/0 tension trim/fullDiameter: found "80 mm", expected a full roll larger than its core, 90 mm.',
  ],
]

const servo = { kind: 'servo', bandwidth: '20 rad/s', torqueLimit: '20 N m' }
const trimCases: Case[] = [
  [
    'by torque on a servo',
    { 'line/10/drive': servo, control: [byTorque] },
    'control/0 tension trim/drives: found "rewind", expected a winder whose drive is of kind "torque". Its drive is of kind "servo".',
  ],
  [
    'by speed on a torque drive',
    { control: [{ ...bySpeed, drives: 'rewind' }] },
    'control/0 tension trim/drives: found "rewind", expected a part whose drive follows speed. Its drive is of kind "torque": give it "ideal", "lag" or "servo".',
  ],
  [
    'measured at a dancer',
    { control: [{ ...byTorque, measures: 'infeed dancer' }] },
    'control/0 tension trim/measures: found "infeed dancer", expected one of the idlers "idler 1".',
  ],
  [
    'of a drive that another control has',
    { control: [position, bySpeed] },
    'control/1 tension trim/drives: found "unwind", expected a part that no other control drives. Control/0 drives it too.',
  ],
]

const presetSentence = (place: string) =>
  `${place}/roll/preset: found "110 mm", expected a preset only where the drive finds its diameter itself. Without one the drive knows the true diameter: give it a "calculator", or leave the preset out.`
const draw = (at: string): Json => ({ at, do: 'draw', roller: 'nip 1', to: '0.1 %', in: '2 s' })
const settingCases: Case[] = [
  [
    'a preset for a winder without calculator',
    { stage: [event('rewind change', { roll: { ...core, preset: '110 mm' } })] },
    presetSentence('stage/0 rewind change'),
  ],
  [
    'a preset for an unwind without calculator',
    { 'stage/1/roll/preset': '110 mm' },
    presetSentence('stage/1 zero-speed splice'),
  ],
  [
    'a set point outside the stops',
    { stage: [event('set point', { dancer: 'infeed dancer', to: '95 mm' })] },
    'stage/0 set point/to: found "95 mm", expected a position between the stops of infeed dancer, -90 mm to 90 mm.',
  ],
  [
    'a set point of what is no dancer',
    { stage: [event('set point', { dancer: 'idler 1', to: '5 mm' })] },
    'stage/0 set point/dancer: found "idler 1", expected one of the dancers "infeed dancer".',
  ],
  [
    'a force that a taper sets',
    { control: [forceTaper], stage: [event('dancer force', { dancer: 'infeed dancer', to: '100 N' })] },
    'stage/0 dancer force/dancer: found "infeed dancer", expected a dancer whose force is its own. A "force taper" sets that of infeed dancer: use "winding tension".',
  ],
  [
    'the free strain of an unknown film',
    { stage: [event('free strain', { film: 'B', to: '0.1 %' })] },
    'stage/0 free strain/film: found "B", expected one of the films "A".',
  ],
  [
    'the draw of an idler',
    { stage: [event('draw', { roller: 'idler 1', to: '0.1 %' })] },
    'stage/0 draw/roller: found "idler 1", expected one of the driven rollers "nip 1".',
  ],
  [
    'the draw of a winder on torque, which has none',
    { stage: [event('draw', { roller: 'rewind', to: '0.1 %' })] },
    'stage/0 draw/roller: found "rewind", expected one of the driven rollers "nip 1".',
  ],
  [
    'a setting that is still on its way',
    { stage: [draw('1 s'), draw('2 s')] },
    'stage/1 draw/at: found "2 s", expected a time from 3 s on, when the event before it is over.',
  ],
  [
    'a zero-speed splice at an unwind on torque',
    { 'line/0/drive': { kind: 'torque', tension: '60 N' }, control: [] },
    'stage/1 zero-speed splice/do: found "zero-speed splice", expected an unwind whose drive follows speed for a zero-speed splice. A torque drive follows tension, it does not stop and start the roll on command: use a flying splice, or another drive.',
  ],
  [
    'a new core larger than what is wound on it',
    { stage: [event('rewind change', { roll: { ...core, diameter: '80 mm' } })] },
    'stage/0 rewind change/roll/diameter: found "80 mm", expected a roll no smaller than its core, which is 90 mm.',
  ],
  [
    'a new core while the line stands',
    { 'speed/start': '0 m/min', stage: [event('rewind change', { roll: core })] },
    'stage/0 rewind change/do: found "rewind change", expected a running line, but it stands then. Put it at a time at which the line runs.',
  ],
]

describe.each([
  ['an index feed', feedCases],
  ['a changeover', changeoverCases],
  ['a taper', taperCases],
  ['a tension trim', trimCases],
  ['a setting or a roll', settingCases],
])('%s', (_, cases) => {
  test.each(cases)('%s', (_title, changes, sentence) => {
    expect(said(changed(changes))).toEqual([sentence])
  })
})

describe('what is not refused', () => {
  const finds = { 'line/10/calculator': { time: '2 s' } }
  test.each<[string, Record<string, Json | undefined>]>([
    ['there and back again', { ...indexed, stage: [change('1 s', 'indexing'), change('3 s', 'continuous')] }],
    ['a move as long as its cycle', { 'line/8/index': { ...feed, pitch: '0.5 m', move: '1.5 s' }, stage: [] }],
    ['a tension trim by torque on a torque drive', { control: [byTorque] }],
    [
      'a preset with a calculator',
      { ...finds, stage: [event('rewind change', { roll: { ...core, preset: '110 mm' } })] },
    ],
    [
      'a taper led on a tapered dancer',
      { control: [forceTaper], stage: [event('winding tension', { roller: 'infeed dancer', to: '70 N' })] },
    ],
    [
      'two settings of one dancer at once',
      {
        stage: [
          event('set point', { dancer: 'infeed dancer', to: '5 mm' }),
          event('dancer force', { dancer: 'infeed dancer', to: '99 N' }),
        ],
      },
    ],
  ])('%s', (_, changes) => {
    expect(said(changed(changes))).toEqual([])
  })
})

/** Index feeds, tapers and trims: what does not go together is refused by field, with a sentence. */
import { describe, expect, test } from 'vitest'
import { said, type Json } from './sample'
import {
  type Case,
  changed,
  feed,
  table,
  indexed,
  change,
  ramp,
  event,
  position,
  byTorque,
  bySpeed,
  forceTaper,
} from './staging'

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

describe.each([
  ['an index feed', feedCases],
  ['a changeover', changeoverCases],
  ['a taper', taperCases],
  ['a tension trim', trimCases],
])('%s', (_, cases) => {
  test.each(cases)('%s', (_title, changes, sentence) => {
    expect(said(changed(changes))).toEqual([sentence])
  })
})

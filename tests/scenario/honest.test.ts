/** Bad input about stiction, stops, cylinders, swing arms and programs: which field is named, and what is said. */
import { describe, expect, test } from 'vitest'
import { said, sample, spoilt, type Json } from './sample'

const changed = (changes: Record<string, Json | undefined>): Json =>
  Object.entries(changes).reduce<Json>((document, [path, value]) => spoilt(path, value, document), sample())

type Case = [title: string, changes: Record<string, Json | undefined>, sentence: string]

const cylinder = { bore: '25 mm', pressure: '2 bar', deadVolume: '100 cm^3' }
const dancer = 'line/4 infeed dancer'

const cases: Case[] = [
  [
    'a breakaway below sliding drag, of an idler',
    { 'line/2/drag': '0.05 N m', 'line/2/breakaway': '0.02 N m' },
    'line/2 idler 1/breakaway: found "0.02 N m", expected no less than sliding drag, 0.05 N m.',
  ],
  [
    'of a roll',
    { 'line/0/drag': '0.5 N m', 'line/0/breakaway': '0.4 N m' },
    'line/0 unwind/breakaway: found "0.4 N m", expected no less than sliding drag, 0.5 N m.',
  ],
  [
    'friction at rest below that of sliding, of a dancer',
    { 'line/4/slidingFriction': '3 N', 'line/4/frictionAtRest': '2 N' },
    `${dancer}/frictionAtRest: found "2 N", expected no less than sliding friction, 3 N.`,
  ],
  [
    'stops the wrong way round',
    { 'line/4/lowerStop': '90 mm', 'line/4/upperStop': '-90 mm' },
    `${dancer}/lowerStop: found "90 mm", expected a stop below the upper one, -90 mm.`,
  ],
  [
    'a force and a cylinder',
    { 'line/4/cylinder': cylinder },
    `${dancer}/force: found "120 N", expected no force beside a "cylinder", whose pressure makes it.`,
  ],
  [
    'neither force nor cylinder',
    { 'line/4/force': undefined },
    `${dancer}/force: found nothing, expected a force, or a "cylinder" in its place. Write "force": "100 N".`,
  ],
  [
    'a cylinder without dead volume',
    { 'line/4/force': undefined, 'line/4/cylinder': { ...cylinder, deadVolume: '0 cm^3' } },
    `${dancer}/cylinder/deadVolume: found "0 cm^3", expected a volume above 0 cm³. At the lower stop the piston would have no air behind it.`,
  ],
  [
    'an arm whose stop lies beyond 60 deg',
    { 'line/4/arm': '80 mm' },
    `${dancer}/lowerStop: found "-90 mm", expected a stop within 60 deg of the arm's middle, 83.78 mm.`,
  ],
  [
    'a sample time of zero',
    { 'control/0/program': { sample: '0 ms' } },
    'control/0 position trim/program/sample: found "0 ms", expected a time above 0 s and at most 100 s.',
  ],
  [
    'a sample time that is no multiple of the recording interval',
    { 'control/0/program': { sample: '25 ms' } },
    'control/0 position trim/program/sample: found "25 ms", expected a whole multiple of the recording interval, 10 ms.',
  ],
  [
    'a sample time below the recording interval',
    { 'control/0/program': { sample: '4 ms' } },
    'control/0 position trim/program/sample: found "4 ms", expected a whole multiple of the recording interval, 10 ms.',
  ],
  [
    'one that is next to nothing',
    { 'control/0/program': { sample: '1e-9 s' } },
    'control/0 position trim/program/sample: found "1e-9 s", expected a whole multiple of the recording interval, 10 ms.',
  ],
  [
    'a schedule out of order',
    {
      'control/0/program': {
        sample: '20 ms',
        schedule: [
          ['300 mm', 1],
          ['200 mm', 0.5],
        ],
      },
    },
    'control/0 position trim/program/schedule/1/0: found "200 mm", expected a diameter above the one before it, 300 mm.',
  ],
  [
    'a schedule for what is no roll',
    {
      'control/0/drives': 'nip 1',
      'control/0/program': {
        sample: '20 ms',
        schedule: [
          ['100 mm', 1],
          ['200 mm', 0.5],
        ],
      },
      'stage/1': { at: '6 s', do: 'stop' },
    },
    'control/0 position trim/program/schedule: found a list, expected no schedule on diameter, since what it drives is no roll.',
  ],
  [
    'another pressure for a dancer without cylinder',
    { 'stage/1': { at: '6 s', do: 'dancer pressure', dancer: 'infeed dancer', to: '2 bar' } },
    'stage/1 dancer pressure/do: found "dancer pressure", expected "dancer force", since it has no cylinder.',
  ],
  [
    'another force for a dancer with cylinder',
    {
      ...{ 'line/4/force': undefined, 'line/4/cylinder': cylinder },
      'stage/1': { at: '6 s', do: 'dancer force', dancer: 'infeed dancer', to: '90 N' },
    },
    'stage/1 dancer force/do: found "dancer force", expected "dancer pressure", since it has a cylinder.',
  ],
]

test.each(cases)('%s', (_, changes, sentence) => {
  expect(said(changed(changes))).toContain(sentence)
})

describe('read without a word', () => {
  test.each<[string, Record<string, Json | undefined>]>([
    ['as much at rest as in sliding', { 'line/2/drag': '0.05 N m', 'line/2/breakaway': '0.05 N m' }],
    ['a cylinder in place of the force', { 'line/4/force': undefined, 'line/4/cylinder': cylinder }],
    ['stops just within 60 deg', { 'line/4/arm': '86 mm' }],
    ['a sample time of three recording intervals', { 'control/0/program': { sample: '30 ms' } }],
  ])('%s', (_, changes) => {
    expect(said(changed(changes))).toEqual([])
  })
})

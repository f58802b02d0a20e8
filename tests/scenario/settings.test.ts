/** Events that change settings or rolls: what does not go together is refused by field, with a sentence; what does is not. */
import { describe, expect, test } from 'vitest'
import { said, type Json } from './sample'
import { type Case, changed, feed, indexed, change, event, byTorque, forceTaper, core } from './staging'

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

describe('a setting or a roll', () => {
  test.each(settingCases)('%s', (_title, changes, sentence) => {
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

import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import type { RollCommand } from '../../src/headless/arguments'
import { readArguments } from '../../src/headless/arguments'
import { rollCommand } from '../../src/headless/roll'
import { FakeSurroundings } from './line'

const command = (change: Partial<RollCommand> = {}): RollCommand => ({
  ...{ command: 'roll', file: 'roll.json', json: false, sets: [], strict: false, ...change },
})

function roll(file: string, change: Partial<RollCommand> = {}) {
  const around = new FakeSurroundings()
  around.files.set('roll.json', readFileSync(`scenarios/${file}`, 'utf8'))
  const code = rollCommand(command(change), around)
  return { code, text: around.printed.join('\n'), around }
}

test('prints verdict, pressures, a table for the drive, the full roll and advice', () => {
  const { code, text } = roll('roll-foil.json')
  expect(code).toBe(0)
  expect(text).toMatch(/^!! .*telescopes.*794 N, at least 900 N/m)
  expect(text).toMatch(/^diameter mm +pressure kPa +hoop stress MPa/m)
  expect(text).toMatch(/^diameter mm +tension N +% +torque N m +rpm/m)
  expect(text).toMatch(/Full roll: .* m of film in .* laps/)
  expect(text).toMatch(/Flattest pressure within the limits/)
  expect(text).toMatch(/certify nothing/)
})

test('--json prints one object in SI units that keeps its force balance', () => {
  const { text } = roll('roll-soft-film.json', { json: true })
  const object = JSON.parse(text) as { wound: Record<'radius' | 'pressure' | 'hoop', number[]>; findings: object[] }
  const { radius, pressure, hoop } = object.wound
  expect(radius[0]).toBeCloseTo(0.045, 9)
  expect(radius[radius.length - 1]).toBeCloseTo(0.14, 9)
  const middle = Math.floor(radius.length / 2)
  const product = (i: number) => radius[i] * pressure[i]
  const slope = (product(middle + 1) - product(middle - 1)) / (radius[middle + 1] - radius[middle - 1])
  expect(Math.abs(slope + hoop[middle])).toBeLessThan(1e-3 * Math.max(...pressure))
  expect(object.findings.length).toBeGreaterThan(8)
})

test('a broken limit counts only with --strict; a roll that cannot be is refused, field by field', () => {
  expect(roll('roll-foil.json', { strict: true }).code).toBe(1)
  const smaller = [{ path: 'line/rewind/drive/fullDiameter', value: '80 mm' }]
  const { code, around } = roll('roll-foil.json', { sets: smaller })
  expect(code).toBe(2)
  expect(around.complaints.join()).toMatch(/fullDiameter.*larger than its core/)
})

test('a scenario that says where its run lies is run first', () => {
  const withRun = roll('roll-stop-in-the-middle.json', { json: true })
  const without = roll('roll-stop-in-the-middle.json', { json: true, sets: [{ path: 'stage/0/in', value: '1.5 s' }] })
  expect(withRun.text).not.toBe(without.text)
})

test('what was typed', () => {
  expect(readArguments(['roll', 'a.json', '--json', '--set', 'line/rewind/drive/taper=20 %'])).toEqual({
    ...{ command: 'roll', file: 'a.json', json: true, strict: false },
    sets: [{ path: 'line/rewind/drive/taper', value: '20 %' }],
  })
  expect(readArguments(['roll'])).toMatchObject({ command: 'wrong', say: 'roll needs a FILE.' })
  expect(readArguments(['roll', 'a.json', '--csv', 'b'])).toMatchObject({
    command: 'wrong',
    say: 'roll takes no --csv.',
  })
})

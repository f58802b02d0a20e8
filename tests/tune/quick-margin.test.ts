import { readdirSync, readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import { readScenario } from '../../src/scenario/read'
import { loopGain } from '../../src/tune/loops'
import { plantOf } from '../../src/tune/plant'
import { quickMargin } from '../../src/tune/quick-margin'
import { standAt } from '../../src/tune/setup'

const files = readdirSync('scenarios').filter((name) => name.endsWith('.json'))

function scenario(name: string) {
  const reading = readScenario(readFileSync(`scenarios/${name}`, 'utf8'))
  if (!reading.ok) throw new Error(`${name} is not read`)
  return reading.scenario
}

test.each(files)('%s: the margin for the map is that of the whole loop within a tenth of a degree', (name) => {
  for (const factor of [0.3, 1, 3, 20]) {
    const own = scenario(name)
    const control = own.control.map((one) => ('gain' in one ? { ...one, gain: one.gain * factor } : one))
    const standing = standAt({ ...own, control })
    if (!standing.ok) continue
    const plant = plantOf(standing, false)
    plant.loops.forEach((_, k) => {
      const whole = loopGain(plant, k)
      const quick = quickMargin(plant, k)
      if (!whole.ok) {
        expect(quick).toEqual({ value: NaN, say: whole.say })
        return
      }
      const margin = whole.margins.phaseMargin?.value ?? Math.PI
      expect(quick.value).toBeCloseTo(whole.stable ? margin : -Math.abs(margin), 2.7)
    })
  }
})

test('a line without a trim has no margin, and says so', () => {
  const own = scenario(files[0] ?? '')
  const standing = standAt({ ...own, control: [] })
  if (!standing.ok) throw new Error(standing.say)
  expect(quickMargin(plantOf(standing, false), 0).say).toContain('no loop')
})

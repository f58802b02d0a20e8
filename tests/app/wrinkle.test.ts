/** The Wrinkle page's geometry: scene and chart stay on their sheet whatever the knobs say, and show what is computed. */
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { decades, pathOf, place, strainEdge, ticks } from '../../src/app/pages/wrinkle/chart'
import { Bench } from '../../src/app/pages/wrinkle/bench.svelte'
import { figuresOf } from '../../src/app/pages/wrinkle/figures'
import { largerText } from '../../src/app/pages/wrinkle/larger'
import { sceneOf, type Line } from '../../src/app/pages/wrinkle/scene'
import { documentOf } from '../../src/app/pages/wrinkle/take'
import { assess, criticalAgainst, readSetting, type Setting } from '../../src/wrinkle'
import { misalignmentOf } from '../../src/wrinkle/beam'
import { anySetting, starting } from '../wrinkle/setting'

const lines = (scene: ReturnType<typeof sceneOf>): Line[] => [
  ...scene.rollers.flatMap(({ body, cap }) => [body, cap]),
  ...[scene.before, scene.after, scene.film, scene.arrow],
]

test('rollers and film lie on the sheet, whatever is set', () => {
  fc.assert(
    fc.property(anySetting, (s) => {
      const scene = sceneOf(assess(s), 640, 360, 10)
      for (const { x, y } of lines(scene).flat()) {
        expect(x).toBeGreaterThanOrEqual(9.99)
        expect(x).toBeLessThanOrEqual(630.01)
        expect(y).toBeGreaterThanOrEqual(9.99)
        expect(y).toBeLessThanOrEqual(350.01)
      }
      expect(scene.crests.length).toBeLessThan(400)
    }),
    { numRuns: 60 },
  )
})

test('flat film has no crests; crests are as many as fit across, a fold only where there is one', () => {
  const flat = sceneOf(assess({ ...starting, misalignment: 0 }), 640, 360, 10)
  expect([flat.crests.length, flat.ribbons.length, flat.folds.length]).toEqual([0, 0, 0])
  const found = assess({ ...starting, misalignment: 2e-3 })
  const scene = sceneOf(found, 640, 360, 10)
  const across = starting.width / found.troughs.wavelength
  expect(Math.abs(scene.crests.length - across)).toBeLessThan(4)
  expect(scene.folds).toHaveLength(0)
  expect(sceneOf(assess({ ...starting, heat: 30, speed: 0 }), 640, 360, 10).folds.length).toBeGreaterThan(0)
})

test('too many troughs to draw are thinned out, and that is told', () => {
  const foil = assess({ ...starting, thickness: 6e-6, width: 1.6, length: 0.2, misalignment: 4e-3 })
  const scene = sceneOf(foil, 640, 360, 10)
  expect(foil.setting.width / foil.troughs.wavelength).toBeGreaterThan(40)
  expect(scene.every).toBeGreaterThan(1)
})

test('what is drawn larger says by how much, also where the drawing would leave the sheet', () => {
  const drawn = (changes: Partial<Setting>) => sceneOf(assess({ ...starting, ...changes }), 640, 360, 10).drawn
  for (const misalignment of [0, 2e-3, -2e-3]) {
    expect(largerText(drawn({ misalignment }))).toBe(
      'Troughs and misalignment are drawn 20 times as large as they are.',
    )
  }
  // 0.35 rad at the most
  const turned = drawn({ misalignment: -0.05 })
  expect(turned.turn).toBeCloseTo(7, 9)
  expect(largerText(turned)).toMatch(/^Troughs are drawn 20 times as large as they are, misalignment 7 times\.$/)
  // a narrow film with deep troughs: 0.06 of its length at the most
  const deep = { width: 0.1, length: 0.1, misalignment: 0.01, thickness: 2e-4, tension: 1 }
  const { amplitude } = assess({ ...starting, ...deep })
  expect(amplitude).toBeGreaterThan((0.06 * 0.1) / 20)
  expect(drawn(deep).depth).toBeCloseTo((0.06 * 0.1) / amplitude, 9)
})

test('the source of a figure is shown as long as the figure is that of the catalogue', () => {
  const bench = new Bench()
  expect(bench.taken).toBeUndefined()
  bench.use('pi')
  expect(bench.taken?.key).toBe('pi')
  const shown = () => bench.taken?.sources.map(({ label }) => label)
  const all = [
    'Modulus',
    "Poisson's ratio",
    'Elastic limit',
    'Expansion',
    'Tension per width',
    'Film roughness',
    'Friction',
  ]
  expect(shown()).toEqual(all)
  bench.apply('misalignment', '3 mm/m')
  expect(shown()).toEqual(all)
  bench.apply('modulus', '3 GPa')
  expect(shown()).toEqual(all.slice(1))
  // the tension was that of another thickness
  bench.apply('thickness', '50 µm')
  expect(shown()).not.toContain('Tension per width')
  bench.apply('modulus', '2.5 GPa')
  expect(shown()).toContain('Modulus')
  bench.reset()
  expect(bench.taken).toBeUndefined()
  bench.use('pi')
  bench.replace({ ...bench.document })
  expect(bench.taken).toBeUndefined()
})

test('the equation of the critical misalignment yields the figure that it shows', () => {
  fc.assert(
    fc.property(anySetting, (s) => {
      const found = assess(s)
      const shear = Math.sqrt(found.span.limit * (found.span.limit + found.stress))
      const beam = { ...s, tension: s.tension * s.width }
      const inWords = figuresOf(found, (value) => String(value))
      expect(Number(inWords.critical) / misalignmentOf(beam, shear)).toBeCloseTo(1, 9)
    }),
    { numRuns: 40 },
  )
})

test('scales hold what is to be shown, in whole decades; the pen lifts where nothing is left', () => {
  expect(decades([0.0011, 0.5, 0, NaN])).toEqual({ low: 0.001, high: 1, ratio: true })
  const scale = { low: 1, high: 100, ratio: true }
  expect(place(scale, 10)).toBeCloseTo(0.5, 12)
  expect(ticks(scale, 5)).toEqual([1, 2, 5, 10, 20, 50, 100])
  expect(ticks({ low: 0, high: 40, ratio: false }, 5)).toEqual([0, 10, 20, 30, 40])
  const x = { low: 0, high: 2, ratio: false }
  const frame = { left: 0, right: 100, top: 0, bottom: 100 }
  const path = pathOf(Float64Array.of(0, 1, 2), Float64Array.of(10, 0, 10), x, scale, frame)
  expect(path).toBe('M0 50M100 50')
})

test('the strain limit stands where strain reaches it', () => {
  const curves = criticalAgainst(starting, 'tension', 50, 3000, 200)
  const edge = strainEdge(curves)
  expect(edge?.beyond).toBe('right')
  // 1 % of 4.5 GPa x 25 um
  expect(Math.abs((edge?.at ?? 0) / 1125 - 1)).toBeLessThan(0.03)
  expect(strainEdge(criticalAgainst(starting, 'thickness', 1e-6, 1e-4, 100))?.beyond).toBe('left')
})

test('a setting taken to the knobs reads back as itself, to the digits shown', () => {
  fc.assert(
    fc.property(anySetting, (s) => {
      const reading = readSetting(documentOf(s, '1 mm/m'))
      if (!reading.ok) throw new Error(reading.problems.map(({ say }) => say).join(' '))
      for (const key of ['thickness', 'tension', 'modulus', 'radius', 'speed', 'rollerRoughness'] as const) {
        expect(Math.abs(reading.setting[key] - s[key])).toBeLessThanOrEqual(1e-3 * s[key])
      }
    }),
  )
})

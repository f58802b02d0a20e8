import { readFileSync } from 'node:fs'
import { test } from 'vitest'
import { readScenario } from '../../src/scenario/read'
import { mapper, stations, varied, figureOf } from '../../src/tune/map'
import { plantOf } from '../../src/tune/plant'
import { standAt, scenarioAt } from '../../src/tune/setup'
import { closedLine } from '../../src/tune/closed'
import { eigenvaluesOf } from '../../src/tune/eigenvalues'
import { steadyNear, neighbourOf } from '../../src/tune/near'
import { check } from '../../src/scenario/check'
import { Line } from '../../src/line/line'

test('look', () => {
  const r = readScenario(readFileSync('tests/reference/bench-37.scenario.json', 'utf8'))
  if (!r.ok) throw new Error(r.problems.map((p) => p.say).join())
  const s = r.scenario
  console.log(
    JSON.stringify(s.control),
    s.line.filter((p) => p.part === 'dancer').map((p) => p.name),
  )
  const d = s.line.find((p) => p.part === 'dancer')
  const across = { path: `line/${d!.name}/mass`, from: 1, to: 10, scale: 'log' } as const
  const up = { path: 'control/0/gain', from: 0.3, to: 30, scale: 'log' } as const
  for (const [a, u] of [
    [across, up],
    [
      { path: 'speed', from: 0.1, to: 2, scale: 'log' } as const,
      { path: 'unwind diameter', from: 0.1, to: 0.5, scale: 'linear' } as const,
    ],
  ] as const) {
    const m = mapper(s, { across: a, up: u, figure: { of: 'least damping' } })
    if (!m.ok) throw new Error(m.say)
    for (const N of [20, 40, 40]) {
      const t0 = process.cpuUsage().user / 1000
      const g: number[] = []
      for (const y of stations(u, N))
        for (const x of stations(a, N)) {
          const c = m.cell(x, y)
          g.push(c.value)
          if (c.say && g.length < 3) console.log(c.say)
        }
      console.log(
        (process.cpuUsage().user / 1000 - t0) / N / N,
        'ms a cell',
        Math.min(...g),
        Math.max(...g),
        g.filter(Number.isNaN).length,
      )
    }
  }
  const cpu = () => process.cpuUsage().user / 1000
  const time = (what: string, f: () => unknown) => {
    for (let k = 0; k < 200; k++) f()
    const t = cpu()
    for (let k = 0; k < 600; k++) f()
    console.log(what, (cpu() - t) / 600)
  }
  const st = standAt(s)
  if (!st.ok) throw new Error(st.say)
  const plant = plantOf(st, false)
  const cl = closedLine(plant)
  if (!cl.ok) throw new Error(cl.say)
  console.log(plant.n, cl.n)
  time('varied', () =>
    varied(s, [
      [across.path, 3],
      [up.path, 2],
    ]),
  )
  time('scenarioAt', () => scenarioAt(s, {}))
  time('Line', () => new Line(scenarioAt(s, {})))
  time('stand', () => standAt(s))
  const nb = neighbourOf(st.line, st.y)
  time('near', () => {
    const l = new Line(scenarioAt(s, { speed: 1 }))
    if (!steadyNear(l, nb)) throw new Error('x')
  })
  const l2 = new Line(scenarioAt(s, {}))
  time('rates', () => {
    for (let k = 0; k < 100; k++) l2.rates(0, st.y)
  })
  time('plant', () => {
    plantOf(st, false)
  })
  time('closed', () => closedLine(plant))
  time('eig', () => eigenvaluesOf(cl.matrix, cl.n))
  time('check', () => check(s, {}))
}, 100000)

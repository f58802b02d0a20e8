import { readFileSync, readdirSync } from 'node:fs'
import { test } from 'vitest'
import { readScenario } from '../../src/scenario/read'
import { begin, Run } from '../../src/run/run'
import { plantOf } from '../../src/tune/plant'
import { standAt } from '../../src/tune/setup'
import { closedLine } from '../../src/tune/closed'
import { predict, mainCause } from '../../src/tune/predict'

test('look', () => {
  for (const f of readdirSync('scenarios')) {
    const r = readScenario(readFileSync('scenarios/' + f, 'utf8'))
    if (!r.ok) continue
    const st = standAt(r.scenario)
    if (!st.ok) continue
    const plant = plantOf(st)
    const cl = closedLine(plant)
    if (!cl.ok) continue
    const t0 = process.cpuUsage().user / 1000
    const p = predict(r.scenario, plant, cl, plant.outputs)
    const t1 = process.cpuUsage().user / 1000
    const run = begin(r.scenario)
    if (!(run instanceof Run)) continue
    let o
    while (o === undefined) o = run.step()
    if (o.outcome !== 'finished') { console.log(f, o); continue }
    console.log(f, (t1 - t0).toFixed(0), 'ms', (process.cpuUsage().user / 1000 - t1).toFixed(0))
    p.forEach((x, j) => {
      const s = j < o.summary.spans.length ? o.summary.spans[j].tension : o.summary.dancers[j - o.summary.spans.length]
      console.log('  ', x.output.key.padEnd(40), `lin ${(x.output.value).toFixed(3)} ${x.least.toFixed(4)} ${x.most.toFixed(4)}  sim ${s.start.toFixed(3)} ${(s.min - s.start).toFixed(4)} ${(s.max - s.start).toFixed(4)}`)
    })
    console.log(mainCause(r.scenario, plant, cl, plant.outputs[2]))
  }
}, 100000)

import fc from 'fast-check'
import { test } from 'vitest'
import { randomDocument } from './random'
import { powerGap } from './rig'
import { prepare } from '../../src/run/prepare'
import { Run } from '../../src/run/run'
import { writeFileSync } from 'node:fs'
test('explore', () => {
  const docs = fc.sample(randomDocument, { numRuns: Number(process.env.N ?? 30), seed: Number(process.env.SEED ?? 1) })
  const outcomes: Record<string, number> = {}
  docs.forEach((d, n) => {
    const t0 = performance.now()
    const run = prepare(d)
    let key = ''
    if (!(run instanceof Run)) { key = run.outcome + ' ' + (run.outcome === 'refused' ? run.problems[0].say : run.say) ; console.log(n, key) }
    else {
      const b0 = run.line.balance(run.y)
      let worstP = 0, worstB = 0, at = 0, neg = 0
      const all: [number, number, number][] = []
      for (;;) {
        let o
        try { o = run.step() } catch (e) { key = 'THROW ' + e; break }
        const { gap, passing } = powerGap(run)
        all.push([gap, passing, run.time])
        worstB = Math.max(worstB, Math.abs(run.line.balance(run.y) - b0) / Math.max(1, run.y[run.line.unwoundState]))
        for (const f of run.line.spans.force) if (!(f >= 0)) neg++
        if (o) { key = o.outcome + (o.outcome === 'failed' ? ' ' + o.say + ' ' + o.at+ ' ' + o.state : ''); break }
      }
      const peak = Math.max(...all.map((a) => a[1]))
      for (const [g, p, t] of all) { const r = g / Math.max(p, 1e-3 * peak); if (r > worstP) { worstP = r; at = t } }
      const ms = performance.now() - t0
      if (worstP > 1e-7 || worstB > 1e-10 || neg || ms > 2500 || !key.startsWith('finished')) { console.log(n, key, worstP, at, worstB, neg, ms.toFixed(0), run.line.stateNames.length); writeFileSync(`/tmp/sw/rand-${n}.json`, JSON.stringify(d, null, 1)) }
    }
    outcomes[key.slice(0, 60)] = (outcomes[key.slice(0, 60)] ?? 0) + 1
  })
  console.log(outcomes)
})

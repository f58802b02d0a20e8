import { readFileSync } from 'node:fs'
import { test } from 'vitest'
import { readScenario } from '../../src/scenario/read'
import { advise } from '../../src/tune/advice'
test('look', () => {
  const r = readScenario(readFileSync('scenarios/continuous-to-indexing.json', 'utf8'))
  if (!r.ok) return
  for (const effort of [
    { scatter: 14, walk: 16, tries: 2 },
    { scatter: 40, walk: 120, tries: 3 },
  ]) {
    const g = advise(r.scenario, 'index dancer', { band: 0.03, phaseMargin: 0.7, travelShare: 0.8 }, effort)
    let s = g.next()
    while (s.done !== true) s = g.next()
    const a = s.value
    if (!a.ok) {
      console.log(a.say)
      continue
    }
    console.log(
      `  gain ${a.gain.toFixed(2)} met ${a.met} before ${JSON.stringify(a.before)}\n  after ${JSON.stringify(a.after)}\n linear ${JSON.stringify(a.linearBefore)} ${JSON.stringify(a.linearAfter)}\n ${a.changes.map((c) => `${c.name} ${c.old.toPrecision(3)} -> ${c.new.toPrecision(3)}`).join('; ')}\n  ${a.limits.join('\n  ')}`,
    )
  }
}, 1000000)

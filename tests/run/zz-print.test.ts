import { test } from 'vitest'
import { runCheck } from '../../src/checks'
import { indexingChecks } from '../../src/checks/rows/indexing'
import { heatChecks } from '../../src/checks/rows/heat'
import { taperChecks } from '../../src/checks/rows/taper'
test('p', () => {
  for (const c of [...indexingChecks, ...heatChecks, ...taperChecks]) {
    const t = performance.now()
    const r = runCheck(c)
    console.log(c.id, r.pass, r.problem, (performance.now() - t).toFixed(0) + ' ms')
    for (const w of r.rows) console.log('   ', w.pass, w.what, w.expected, w.computed, w.tolerance, w.unit, 'off', w.computed - w.expected)
  }
})

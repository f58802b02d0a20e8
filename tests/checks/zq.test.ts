import { test } from 'vitest'
import { runCheck } from '../../src/checks'
import { airChecks } from '../../src/checks/rows/air'
import { loopChecks } from '../../src/checks/rows/loops'
import { frictionChecks } from '../../src/checks/rows/friction'
test('p', () => {
  for (const c of [...airChecks, ...loopChecks, ...frictionChecks]) {
    const t = performance.now()
    const r = runCheck(c)
    console.log(c.id, r.pass, r.problem, (performance.now() - t).toFixed(0) + ' ms', r.rows.map(w => [w.pass, w.what, w.expected, w.computed, w.tolerance].join(' ')))
  }
})

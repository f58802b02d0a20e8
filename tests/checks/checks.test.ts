import { test } from 'vitest'
import { runCheck } from '../../src/checks'
import { drawChecks } from '../../src/checks/rows/draw'
import { modeChecks } from '../../src/checks/rows/modes'
import { rollChecks } from '../../src/checks/rows/roll'
import { taperChecks } from '../../src/checks/rows/taper'
import { energyChecks } from '../../src/checks/rows/energy'
test('p', () => {
  for (const c of [...drawChecks, ...modeChecks, ...rollChecks, ...taperChecks, ...energyChecks]) {
    const t = performance.now()
    const r = runCheck(c)
    console.log(c.id, r.pass, r.problem, (performance.now() - t).toFixed(0) + ' ms')
    for (const w of r.rows)
      console.log('   ', w.pass, w.what, w.expected, w.computed, w.tolerance, w.unit, 'off', w.computed - w.expected)
  }
})

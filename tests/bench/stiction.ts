/** Twenty idlers that stop one after another, each with stiction of its own: switching must not eat the speed of the run. */
import { prepare } from '../../src/run/prepare'
import type { Row } from '../tools/table.mjs'
import { bestOf } from './measure'

const leastPace = 20
const duration = 6

export function bench(): Promise<Row[]> {
  let switches = 0
  const start = () => {
    const run = prepare(stoppingLine())
    if (!('step' in run)) throw new Error(`the line is ${run.outcome}`)
    return run
  }
  const best = bestOf(5, start, (run) => {
    let outcome
    while (outcome === undefined) outcome = run.step()
    if (outcome.outcome !== 'finished') throw new Error(`the stop ended as ${outcome.outcome}`)
    switches = outcome.summary.solver.events
  })
  const pace = (1e3 * duration) / best
  return Promise.resolve([
    {
      what: '20 idlers with stiction stop from 60 m/min',
      budget: `${leastPace} times real time`,
      measured: `${pace.toFixed(0)} times`,
      within: pace >= leastPace,
      note: `${duration} s of line time in ${best.toFixed(0)} ms, ${switches} switches`,
    },
  ])
}

function stoppingLine(): unknown {
  const idlers = Array.from({ length: 20 }, (_, k) => [
    {
      ...{ part: 'idler', name: `idler ${k + 1}`, diameter: '80 mm', wrap: '60 deg', turn: k % 2 ? 'left' : 'right' },
      ...{ inertia: '1.6e-3 kg m^2', drag: '0.01 N m', breakaway: `${0.02 + 0.001 * k} N m` },
    },
    { part: 'span', length: `${400 + 10 * k} mm`, filmDamping: '1 ms' },
  ])
  const servo = { kind: 'servo', bandwidth: '20 rad/s', torqueLimit: '60 N m' }
  return {
    spanwright: 1,
    title: 'Twenty idlers stop',
    films: {
      A: { thickness: '36 µm', width: '420 mm', modulus: '4.5 GPa', density: '1390 kg/m^3', elasticLimit: '0.5 %' },
    },
    line: [
      { part: 'unwind', name: 'unwind', film: 'A', diameter: '400 mm', woundTension: '80 N', drive: servo },
      { part: 'span', length: '500 mm', filmDamping: '1 ms' },
      ...idlers.flat(),
      { part: 'rewind', name: 'rewind', diameter: '200 mm', drive: { kind: 'torque', tension: '80 N' } },
    ],
    speed: { start: '60 m/min', threadingTension: '80 N' },
    stage: [{ at: '0.5 s', do: 'stop', in: '2 s' }],
    run: { for: `${duration} s`, tick: '10 ms' },
  }
}

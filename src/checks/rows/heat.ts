/** Checks of film that grows by heat while its draw is fixed. */
import type { Check } from '../check'
import { finish, nip, rewind, runOf, scenarioOf, span, STIFFNESS, unwind } from './rig'

/** 1/K: polyester, and the rounder figure that goes with 28 K */
const EXPANSION = 1.7e-5
const ROUND_EXPANSION = 18e-6

/** A standing line of rollers that hold, at `tension` (N), whose film grows by `strain` within 1 s. */
function warmed(tension: number, strain: number) {
  const scenario = scenarioOf({
    line: [unwind(tension), span(1), nip('nip 1'), span(1), nip('nip 2'), span(1), rewind()],
    stage: [{ at: '0.5 s', do: 'free strain', film: 'A', to: `${100 * strain} %`, in: '1 s' }],
    ...{ speed: 0, duration: 2, threadingTension: tension },
  })
  const run = runOf(scenario)
  const { spans } = finish(run)
  return { run, spans }
}

/** N, by how much the tension between the drives falls with a rise of temperature (K). */
function loss(rise: number): number {
  const { tension } = warmed(400, EXPANSION * rise).spans[1]
  return tension.start - tension.end
}

/** K, at which film that stands at a strain of 0.05 % goes slack. */
function slackAt(): number {
  const { run } = warmed(5e-4 * STIFFNESS, 40 * ROUND_EXPANSION)
  const slack = run.happenings.find((h) => h.what === 'slack')
  if (slack === undefined) throw new Error('the film never goes slack')
  return run.line.courses.setting('free strain', 'A', 0).speedAt(slack.at) / ROUND_EXPANSION
}

const heat: Check = {
  id: '36',
  title: 'Heat against strain at a fixed draw',
  kind: 'own derivation',
  source:
    'F falls by EA alpha dT; 0.05 % of strain divided by 18e-6 1/K. Expansion: public data sheets of polyester film',
  inputs:
    'A standing line of rollers that hold, film of 225 kN; free strain of 1.7e-5 x 50 K; then 18e-6 1/K until slack.',
  rows: [
    { what: 'tension lost by 50 K', expected: 191.25, unit: 'N', tolerance: 1e-6 },
    { what: '0.05 % is used up by', expected: 5e-4 / 18e-6, unit: 'K', tolerance: 1e-3 },
  ],
  compute: () => [loss(50), slackAt()],
}

export const heatChecks: readonly Check[] = [heat]

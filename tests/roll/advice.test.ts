/** Advice and turns: what is advised does what is said of it when the roll is computed anew. */
import { expect, test } from 'vitest'
import { advise, assess, solveRoll, turnsOf, type RollInput } from '../../src/roll'
import { adviceText, rollVerdict, weakestOfRoll } from '../../src/verdict/roll'
import { inputOf } from './rolls'

const worst = (input: RollInput) => {
  const outcome = solveRoll(input)
  if (outcome.outcome !== 'finished') throw new Error('refused')
  return Math.max(...assess(outcome).map(({ share }) => share))
}

test('a roll that breaks a limit is given a setting that keeps them all, in full detail too', () => {
  const input = inputOf('roll-too-little-taper.json')
  expect(worst(input)).toBeGreaterThan(1)
  const advice = advise(input)
  if (advice === undefined) throw new Error('none')
  expect(advice.best.worst).toBeLessThan(1)
  expect(worst({ ...input, taper: advice.best.taper })).toBeLessThan(1)
  expect(adviceText(advice, 'metric')[0]).toMatch(
    /Flattest pressure within the limits: .*present setting breaks a limit/,
  )
})

test('within its limits it is given the flattest, and told what that trades', () => {
  const advice = advise(inputOf('roll-stop-in-the-middle.json'))
  if (advice === undefined) throw new Error('none')
  expect(advice.best.worst).toBeLessThan(1)
  expect(advice.best.flatness).toBeLessThan(advice.present.flatness)
  expect(adviceText(advice, 'metric').join(' ')).toMatch(/becomes/)
})

test('a turn in the direction that is told makes the finding better', () => {
  const input = inputOf('roll-too-little-taper.json')
  const outcome = solveRoll(input)
  if (outcome.outcome !== 'finished') throw new Error('refused')
  const findings = assess(outcome)
  const turns = turnsOf(input)
  const blocking = findings.findIndex(({ key, when }) => key === 'blocking' && when === 'wound')
  const tension = turns[blocking].find(({ knob }) => knob === 'tension')
  expect(tension?.way).toBe('less')
  const turned = solveRoll({ ...input, taper: { ...input.taper, tension: input.taper.tension * 0.9 } })
  if (turned.outcome !== 'finished') throw new Error('refused')
  expect(assess(turned)[blocking].share).toBeLessThan(findings[blocking].share)
  const core = turns[findings.findIndex(({ key }) => key === 'bore')].find(({ knob }) => knob === 'core stiffness')
  expect(core?.way).toBe('more')
})

test('the verdict: worst first, figure with limit and place, the weakest input named', () => {
  const input = inputOf('roll-foil.json')
  const outcome = solveRoll(input)
  if (outcome.outcome !== 'finished') throw new Error('refused')
  const findings = assess(outcome)
  const sentences = rollVerdict(findings, turnsOf(input), 'metric')
  expect(sentences[0]).toMatchObject({ key: 'axial slip', severity: 'bad' })
  expect(sentences[0].text).toMatch(/telescopes.*N, at least 900 N \(at a diameter of .* mm\)/)
  expect(sentences[0].turn).toMatch(/more tension helps/i)
  expect(sentences[0].rests).toBe('stack modulus: illustrative')
  expect(sentences.map(({ share }) => share)).toEqual([...sentences.map(({ share }) => share)].sort((a, b) => b - a))
  expect(weakestOfRoll(findings)).toMatch(/illustrative figures \(stack modulus.*measure them/)
  expect(rollVerdict(findings, [], 'inch')[0].text).toMatch(/lbf.* in\)/)
})

test('a measured stack is not called illustrative', () => {
  const input = inputOf('roll-foil.json')
  const outcome = solveRoll({ ...input, basis: { ...input.basis, 'stack modulus': 'measured' } })
  if (outcome.outcome !== 'finished') throw new Error('refused')
  const pressure = assess(outcome).find(({ key }) => key === 'core pressure')
  expect(pressure?.weakest).toEqual({ name: 'limit', basis: 'illustrative' })
})

/** Advice and turns: what is advised does what is said of it when the roll is computed anew. */
import { describe, expect, test } from 'vitest'
import { advise, assess, solveRoll, turnsOf, type Basis, type RollInput } from '../../src/roll'
import { adviceText, rollVerdict, weakestOfRoll } from '../../src/verdict/roll'
import { inputOf, shippedRoll } from './rolls'

const worst = (input: RollInput) => {
  const outcome = solveRoll(input)
  if (outcome.outcome !== 'finished') throw new Error('refused')
  return Math.max(...assess(outcome).map(({ share }) => share))
}

const reportOf = (input: RollInput) => {
  const outcome = solveRoll(input)
  if (outcome.outcome !== 'finished') throw new Error('refused')
  const findings = assess(outcome)
  return { findings, turns: turnsOf(input, findings) }
}

const withLimits = (input: RollInput, hoopCompression: number): RollInput => ({
  ...input,
  limits: { ...input.limits, hoopCompression },
})

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
  expect(advice.rule).toBe('flattest')
  expect(advice.best.worst).toBeLessThan(1)
  expect(advice.best.flatness).toBeLessThan(advice.present.flatness)
  expect(adviceText(advice, 'metric').join(' ')).toMatch(/becomes/)
})

/** 12 µm of foil on a stack of 40 (5 kPa + P), 600 mm: too thin and stiff for a roll of a few hundred shells. */
const thinFoil = (limits: Partial<RollInput['limits']>): RollInput => {
  const input = inputOf('roll-foil.json')
  return {
    ...{ ...input, film: { ...input.film, thickness: 12e-6 }, fullRadius: 0.3 },
    ...{ taper: { ...input.taper, tension: 60, fullDiameter: 0.6 }, limits: { ...input.limits, ...limits } },
    stack: { law: 'Pfeiffer', pressure: 5e3, slope: 40, basis: 'illustrative' },
  }
}

describe.each([
  ['the ring of a stop', shippedRoll('roll-stop-in-the-middle.json')],
  ['a ring and a limit that it can keep', withLimits(shippedRoll('roll-stop-in-the-middle.json'), 3e6)],
  ['foil that telescopes', inputOf('roll-foil.json')],
  ['thin foil', thinFoil({ corePressure: 64.2e3, axialForce: 100 })],
])('what is said of %s is what the roll in full detail does', (_, input) => {
  const advice = advise(input)
  if (advice === undefined) throw new Error('none')
  const { present, best, rule } = advice

  test('figures of the present and the best setting are those of the verdict', () => {
    for (const { taper, findings, worst: told } of [present, best]) {
      const outcome = solveRoll({ ...input, taper })
      if (outcome.outcome !== 'finished') throw new Error('refused')
      expect(findings).toEqual(assess(outcome))
      expect(told).toBe(worst({ ...input, taper }))
    }
  })

  test('it is called within the limits only where it is', () => {
    expect(best.worst <= 1).toBe(rule === 'flattest')
    expect(best === present || best.worst < present.worst || best.flatness < present.flatness).toBe(true)
    const [said] = adviceText(advice, 'metric')
    expect(/within the limits/.test(said)).toBe(rule === 'flattest')
  })
})

test('a turn in the direction that is told makes the finding better', () => {
  const input = inputOf('roll-too-little-taper.json')
  const outcome = solveRoll(input)
  if (outcome.outcome !== 'finished') throw new Error('refused')
  const findings = assess(outcome)
  const turns = turnsOf(input, findings)
  const blocking = findings.findIndex(({ key, when }) => key === 'blocking' && when === 'wound')
  const tension = turns[blocking].find(({ knob }) => knob === 'tension')
  expect(tension?.way).toBe('less')
  const turned = solveRoll({ ...input, taper: { ...input.taper, tension: input.taper.tension * 0.9 } })
  if (turned.outcome !== 'finished') throw new Error('refused')
  expect(assess(turned)[blocking].share).toBeLessThan(findings[blocking].share)
  const core = turns[findings.findIndex(({ key }) => key === 'bore')].find(({ knob }) => knob === 'core stiffness')
  expect(core?.way).toBe('more')
})

/** Every turn that is named, made: the share of the limit falls. */
test('turns belong to the finding that they are told of, later ones too', () => {
  const input = inputOf('roll-too-little-taper.json')
  const { findings, turns } = reportOf(input)
  const lower = reportOf({ ...input, taper: { ...input.taper, tension: input.taper.tension * 0.95 } }).findings
  for (const [k, { key, when, share }] of findings.entries()) {
    const tension = turns[k].find(({ knob }) => knob === 'tension')
    const other = lower.find((one) => one.key === key && one.when === when)
    if (tension === undefined || other === undefined) continue
    expect([key, when, tension.way]).toEqual([key, when, other.share < share ? 'less' : 'more'])
  }
})

describe('laps that float on air', () => {
  const input = inputOf('roll-too-little-taper.json')
  const floating = { ...input, taper: { ...input.taper, law: 'linear' as const, taper: 0.3 } }

  test('what makes them hold again is named, and does', () => {
    const { findings, turns } = reportOf(floating)
    const k = findings.findIndex(({ share }) => share > 1e6)
    expect(turns[k].map(({ knob, way }) => `${way} ${knob}`)).toEqual(
      expect.arrayContaining(['less air', 'less taper']),
    )
    const { key, when } = findings[k]
    const less = reportOf({ ...floating, taper: { ...floating.taper, taper: 0 } }).findings
    expect(less.find((one) => one.key === key && one.when === when)?.share).toBeLessThan(1e6)
  })

  test('without any friction nothing does, and nothing is said to', () => {
    const { findings, turns } = reportOf({ ...input, inRoll: { ...input.inRoll, friction: 0 } })
    findings.forEach(({ key }, k) => {
      if (/slip/.test(key)) expect(turns[k]).toEqual([])
    })
  })
})

describe('lay-on load', () => {
  const ways = (input: RollInput) =>
    turnsOf(input, reportOf(input).findings).flatMap((turns) =>
      turns.filter(({ knob }) => knob.startsWith('lay-on')).map(({ knob, way }) => `${way} ${knob}`),
    )
  const without = inputOf('roll-tag-stock-small-core.json')

  test('where no roller is fitted, more of it is a roller, and less is not to be had', () => {
    expect(without.layOnRoom).toBeUndefined()
    expect([...new Set(ways(without))]).toEqual(['more lay-on roller'])
  })

  test('with a roller both ways, until its load adds no more', () => {
    const fitted = { ...without, layOn: 10, layOnRoom: 20 }
    expect([...new Set(ways(fitted))].sort()).toEqual(['less lay-on load', 'more lay-on load'])
    expect(ways({ ...fitted, layOnRoom: 0 })).toEqual([])
    expect(ways({ ...fitted, layOn: 0 })).not.toContain('less lay-on load')
  })
})

test('the verdict: worst first, figure with limit and place, the weakest input named', () => {
  const input = inputOf('roll-foil.json')
  const outcome = solveRoll(input)
  if (outcome.outcome !== 'finished') throw new Error('refused')
  const findings = assess(outcome)
  const sentences = rollVerdict(findings, turnsOf(input, findings), 'metric')
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
  expect(pressure?.rests[0]).toEqual({ name: 'limit', basis: 'illustrative' })
})

test('the whole speaks of every basis that is weaker than what was stated', () => {
  const input = inputOf('roll-foil.json')
  const { findings } = reportOf(input)
  const on = (basis: Basis) =>
    findings.map((finding) => ({ ...finding, rests: [{ name: 'stack modulus', basis } as const] }))
  expect(weakestOfRoll(on('from memory'))).toMatch(/figures from memory \(stack modulus\): measure/)
  expect(weakestOfRoll(on('published'))).toMatch(/published figures \(stack modulus\): measure/)
  expect(weakestOfRoll(on('measured'))).toBe('Rests on figures that were stated or measured.')
  expect(weakestOfRoll([...on('published'), ...on('illustrative')])).toMatch(
    /illustrative figures .* and published figures/,
  )
})

test('pressures rest on the fill factor too', () => {
  const input = inputOf('roll-foil.json')
  const { findings } = reportOf({
    ...input,
    basis: { ...input.basis, 'stack modulus': 'measured', 'fill factor': 'illustrative' },
  })
  const blocking = findings.find(({ key }) => key === 'blocking')
  expect(blocking?.rests.filter(({ basis }) => basis === 'illustrative').map(({ name }) => name)).toContain(
    'fill factor',
  )
})

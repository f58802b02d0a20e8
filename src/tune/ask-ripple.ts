/** What a dancer's ripple is counted from, as a job of the pool. */
import { scenarioOf } from './ask'
import { rippleDancerOf, type RippleDancer } from './ripple'
import { standAt, type Point, type Trouble } from './setup'

export interface RippleQuestion {
  readonly point: Point
  readonly dancer: string
}

export interface RippleAnswer {
  readonly ok: true
  readonly dancer: RippleDancer
  /** N, of one strand at rest */
  readonly tension: number
}

export function askRipple(document: unknown): (question: RippleQuestion) => RippleAnswer | Trouble {
  const reading = scenarioOf(document)
  return ({ point, dancer }) => {
    if (!reading.ok) return reading
    const standing = standAt(reading.scenario, point)
    if (!standing.ok) return standing
    const { line, y } = standing
    const carriage = line.carriages.find(({ name }) => name === dancer)
    if (carriage === undefined) return { ok: false, field: 'line', say: `The line has no dancer "${dancer}".` }
    line.rates(0, y)
    const tensions = carriage.strands.spans.map((span) => line.spans.force[span])
    const tension = tensions.reduce((sum, one) => sum + one, 0) / Math.max(1, tensions.length)
    return { ok: true, dancer: rippleDancerOf(line, carriage, y), tension }
  }
}

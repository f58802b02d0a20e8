/** Answers to disturbances over frequency, with what shakes the line at its own turning, as a job of the pool. */
import { scenarioOf } from './ask'
import { beatsOf, meetingsOf, type Beat, type Meeting } from './harmonics'
import { modesOfPlant, type Mode } from './modes'
import { plantOf } from './plant'
import { Responses } from './response'
import { standAt, type Point, type Trouble } from './setup'
import type { Kind } from '../units'

export interface ResponseQuestion {
  readonly point: Point
  /** keys; where the line has none such, the first that it has */
  readonly disturbance: string
  readonly output: string
}

interface Listed {
  readonly key: string
  readonly name: string
  readonly kind: Kind
}

export interface ResponseAnswer {
  readonly ok: true
  readonly disturbances: readonly Listed[]
  readonly outputs: readonly Listed[]
  readonly disturbance: Listed
  readonly output: Listed
  readonly hertz: number[]
  /** of the output for one unit of the disturbance, SI */
  readonly size: number[]
  readonly beats: readonly Beat[]
  readonly meetings: readonly Meeting[]
  readonly light: readonly { readonly frequency: number; readonly damping: number; readonly kind: Mode['kind'] }[]
  readonly stable: boolean
  /** m/s */
  readonly speed: number
}

/** Hz */
const LOWEST = 0.01
const HIGHEST = 100

export function askResponse(document: unknown): (question: ResponseQuestion) => ResponseAnswer | Trouble {
  const reading = scenarioOf(document)
  return ({ point, disturbance, output }) => {
    if (!reading.ok) return reading
    const standing = standAt(reading.scenario, point)
    if (!standing.ok) return standing
    const plant = plantOf(standing)
    const modes = modesOfPlant(plant)
    if (!modes.ok) return modes
    const responses = new Responses(plant)
    const listed = ({ key, name, kind }: Listed): Listed => ({ key, name, kind })
    const found = <T extends Listed>(list: readonly T[], key: string) => list.find((one) => one.key === key) ?? list[0]
    const [cause, effect] = [found(responses.disturbances, disturbance), found(responses.outputs, output)]
    if (cause === undefined || effect === undefined) return { ok: false, say: 'The line has nothing to disturb.' }
    const points = responses.over(cause.key, effect.key, LOWEST, HIGHEST)
    return {
      ok: true,
      disturbances: responses.disturbances.map(listed),
      outputs: responses.outputs.map(listed),
      disturbance: listed(cause),
      output: listed(effect),
      hertz: points.map(({ frequency }) => frequency),
      size: points.map(({ value }) => value.size),
      beats: beatsOf(reading.scenario, point),
      meetings: meetingsOf(reading.scenario, point),
      light: modes.modes
        .filter(({ frequency, damping }) => frequency > 0 && damping < 0.15)
        .map(({ frequency, damping, kind }) => ({ frequency, damping, kind })),
      stable: modes.stable,
      speed: modes.point.speed,
    }
  }
}

/**
 * Staged events: what people make happen on the line, as schemas and as what each does to the speeds.
 *
 * Variables    line speed v(t), unwind speed v_u(t) (m/s)
 * Parameters   of a zero-speed splice: ramp down T_d, hold T_h, ramp up T_u (s), refill x (overspeed, 1)
 * Equations    v_u falls to 0 in T_d, holds for T_h, rises at v/T_u to v (1 + x), runs for T_r and falls back to v at v/T_u;
 *              T_r = (T_d/2 + T_h + T_u/2 - x^2 T_u)/x refills exactly what the dancer or festoon gave
 * Neglected    a change of line speed during the splice (refused when the scenario is read)
 * Source       kinematics, own derivation
 */
import * as v from 'valibot'
import { nameText, quantity } from '../units'
import { Profile } from './profile'
import { rounding, type SpeedSpec } from './speed'
import { rollFields, woundTension } from './unwind'

const at = quantity('time', { meaning: 'When it begins', usual: ['0 s', '60 s'], least: 0, most: 1e6 })
const duration = (meaning: string) => quantity('time', { meaning, usual: ['0.5 s', '10 s'], above: 0, most: 1e4 })
const to = quantity('speed', { meaning: 'Line speed to go to', usual: ['3 m/min', '60 m/min'], above: 0, most: 50 })
const ramp = {
  at,
  in: v.optional(duration('Time that the ramp takes; left out, it follows from the acceleration')),
  rounding: v.optional(rounding),
}

const splice = {
  at,
  film: nameText({ meaning: 'Film on the new roll, from the list of films' }),
  patch: v.optional(
    quantity('length', {
      meaning: 'Length over which old and new film overlap',
      usual: ['20 mm', '100 mm'],
      least: 0,
      most: 10,
    }),
    '50 mm',
  ),
  roll: v.strictObject({
    ...rollFields,
    woundTension,
    spanChange: v.optional(
      quantity('travel', {
        meaning: 'By how much the first span is longer with the new roll',
        usual: ['-200 mm', '200 mm'],
        least: -100,
        most: 100,
      }),
      '0 mm',
    ),
  }),
}

export const startEvent = v.strictObject({ do: v.literal('start'), ...ramp, to })
export const stopEvent = v.strictObject({ do: v.literal('stop'), ...ramp })
export const speedEvent = v.strictObject({ do: v.literal('speed'), ...ramp, to })
export const zeroSpeedSplice = v.strictObject({
  do: v.literal('zero-speed splice'),
  ...splice,
  rampDown: duration('Time in which the unwind comes to rest'),
  hold: duration('Time for which the unwind stands; the films are pasted in its middle'),
  rampUp: duration('Time in which the unwind returns to line speed'),
  refill: v.optional(
    quantity('fraction', {
      meaning: 'Overspeed with which the unwind refills the dancer',
      usual: ['5 %', '40 %'],
      why: 'A small overspeed takes long: the dancer is not ready for the next event until it is full again.',
      least: 0,
      most: 1,
    }),
    '20 %',
  ),
})
export const flyingSplice = v.strictObject({
  do: v.literal('flying splice'),
  ...splice,
  mismatch: v.optional(
    quantity('fraction', {
      meaning: 'How much faster than the line the new roll turns when it is pasted',
      usual: ['-1 %', '1 %'],
      least: -0.5,
      most: 0.5,
    }),
    '0 %',
  ),
})

export const eventSchemas = [startEvent, stopEvent, speedEvent, zeroSpeedSplice, flyingSplice] as const
export type StageEvent = v.InferOutput<(typeof eventSchemas)[number]>
export type ZeroSpeedSplice = v.InferOutput<typeof zeroSpeedSplice>
export type SpliceEvent = ZeroSpeedSplice | v.InferOutput<typeof flyingSplice>

/** The shortest ramp that makes sense, s: a change of nothing still takes this long. */
const LEAST_RAMP = 1e-3

/** How long a ramp takes that starts at `from` (m/s), s. */
export function rampDuration(event: { in?: number | undefined; to: number }, from: number, speed: SpeedSpec): number {
  return event.in ?? Math.max(Math.abs(event.to - from) / speed.acceleration, LEAST_RAMP)
}

/** Times of a zero-speed splice, s from its beginning, in order. */
export function spliceTimes(s: ZeroSpeedSplice): {
  paste: number
  rise: number
  over: number
  back: number
  end: number
} {
  const rise = s.rampDown + s.hold
  const over = rise + s.rampUp * (1 + s.refill)
  const lacking = s.rampDown / 2 + s.hold + s.rampUp / 2 - s.refill * s.refill * s.rampUp
  const back = over + (s.refill > 0 ? Math.max(0, lacking / s.refill) : 0)
  return { paste: s.rampDown + s.hold / 2, rise, over, back, end: back + s.rampUp * s.refill }
}

/** Line speed and unwind speed of a whole run. `stage` must have passed the scenario's checks (time order, no overlaps). */
export function speedProfiles(speed: SpeedSpec, stage: readonly StageEvent[]): { line: Profile; unwind: Profile } {
  const line = new Profile(speed.start)
  const unwind = new Profile(speed.start)
  for (const event of stage) {
    if (event.do === 'zero-speed splice') spliceProfile(unwind, event, line.speedAt(event.at), speed.rounding)
    if (event.do === 'flying splice' || event.do === 'zero-speed splice') continue
    const target = event.do === 'stop' ? 0 : event.to
    const takes = rampDuration({ in: event.in, to: target }, line.speedAt(event.at), speed)
    for (const profile of [line, unwind]) profile.ramp(event.at, target, takes, event.rounding ?? speed.rounding)
  }
  return { line, unwind }
}

function spliceProfile(unwind: Profile, s: ZeroSpeedSplice, v: number, round: number): void {
  const times = spliceTimes(s)
  unwind.ramp(s.at, 0, s.rampDown, round)
  unwind.ramp(s.at + times.rise, v * (1 + s.refill), s.rampUp * (1 + s.refill), round)
  if (s.refill > 0) unwind.ramp(s.at + times.back, v, s.rampUp * s.refill, round)
}

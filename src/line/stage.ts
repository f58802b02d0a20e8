/**
 * Staged events: what people make happen on the line, as schemas and as what each does to the speeds.
 *
 * Variables    line speed v(t), unwind speed v_u(t) (m/s)
 * Parameters   of a zero-speed splice: ramp down T_d, hold T_h, ramp up T_u (s), refill x (overspeed, 1)
 * Equations    v_u falls to 0 in T_d, holds for T_h, rises at v/T_u to v (1 + x), runs for T_r and falls back to v at v/T_u;
 *              T_r = (T_d/2 + T_h + T_u/2 - x^2 T_u)/x refills exactly what the dancer or festoon gave;
 *              where the ramps to and from x alone would give more than that, T_r = 0 and x is as large as they need
 * Neglected    a change of line speed during the splice (refused when the scenario is read)
 * Source       kinematics, own derivation
 */
import * as v from 'valibot'
import { choice, nameText, quantity } from '../units'
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

const preset = v.optional(
  quantity('diameter', {
    meaning: 'Diameter that the drive is told for the new roll; left out, it is told the true one',
    usual: ['200 mm', '600 mm'],
    why: 'Until the diameter calculator has found the truth, speed and torque are wrong by as much.',
    above: 0,
    most: 5,
  }),
)

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
    preset,
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

const settle = v.optional(
  quantity('time', { meaning: 'Time over which it changes', usual: ['0.1 s', '5 s'], above: 0, most: 1e4 }),
  '0.2 s',
)

export const changeover = v.strictObject({
  do: v.literal('changeover'),
  at,
  roller: nameText({ meaning: 'Driven roller with an index feed' }),
  to: choice(['indexing', 'continuous'], { meaning: 'How the roller feeds from now on' }),
  phase: v.optional(
    quantity('fraction', {
      meaning: 'Share of the cycle at which it is entered; a move begins at 0 %',
      usual: ['0 %', '100 %'],
      why: 'Decides whether the dancer is first emptied or first filled.',
      least: 0,
      most: 1,
    }),
    '0 %',
  ),
  in: v.optional(
    quantity('time', { meaning: 'Time of the ramp that leads over', usual: ['0.1 s', '1 s'], above: 0, most: 100 }),
    '0.2 s',
  ),
})
export const drawEvent = v.strictObject({
  do: v.literal('draw'),
  at,
  roller: nameText({ meaning: 'Roller whose draw changes' }),
  to: quantity('fraction', { meaning: 'New draw', usual: ['-0.2 %', '0.5 %'], least: -0.5, most: 0.5 }),
  in: settle,
})
export const forceEvent = v.strictObject({
  do: v.literal('dancer force'),
  at,
  dancer: nameText({ meaning: 'Dancer whose force changes' }),
  to: quantity('force', { meaning: 'New force', usual: ['50 N', '400 N'], least: -1e6, most: 1e6 }),
  in: settle,
})
export const pressureEvent = v.strictObject({
  do: v.literal('dancer pressure'),
  at,
  dancer: nameText({ meaning: 'Dancer whose cylinder gets another pressure' }),
  to: quantity('pressure', {
    meaning: 'New set pressure above atmosphere',
    usual: ['0.5 bar', '4 bar'],
    least: 0,
    most: 5e6,
  }),
  in: settle,
})
export const setPointEvent = v.strictObject({
  do: v.literal('set point'),
  at,
  dancer: nameText({ meaning: 'Dancer whose set point moves' }),
  to: quantity('travel', { meaning: 'New set point', usual: ['-50 mm', '50 mm'], least: -100, most: 100 }),
  in: settle,
})
export const taperEvent = v.strictObject({
  do: v.literal('winding tension'),
  at,
  roller: nameText({ meaning: 'What the taper acts on: winder, dancer or trimmed roller' }),
  to: quantity('force', { meaning: 'New tension at the core', usual: ['20 N', '150 N'], above: 0, most: 1e6 }),
  taper: v.optional(
    quantity('fraction', { meaning: 'New taper; left out, it stays', usual: ['0 %', '50 %'], least: 0, most: 1 }),
  ),
  in: settle,
})
export const freeStrainEvent = v.strictObject({
  do: v.literal('free strain'),
  at,
  film: nameText({ meaning: 'Film that grows or shrinks' }),
  to: quantity('fraction', {
    meaning: 'Strain without tension, by heat or moisture; shrinking is negative',
    usual: ['-0.2 %', '0.1 %'],
    why: 'Between two drives it comes straight off the strain that makes the tension.',
    least: -0.2,
    most: 0.2,
  }),
  in: settle,
})
export const rewindChange = v.strictObject({
  do: v.literal('rewind change'),
  at,
  roll: v.strictObject({ ...rollFields, preset }),
  mismatch: v.optional(
    quantity('fraction', {
      meaning: 'How much faster than the line the new core turns when it takes the film',
      usual: ['-1 %', '2 %'],
      least: -0.5,
      most: 0.5,
    }),
    '0 %',
  ),
})

export const eventSchemas = [
  startEvent,
  stopEvent,
  speedEvent,
  zeroSpeedSplice,
  flyingSplice,
  changeover,
  drawEvent,
  forceEvent,
  pressureEvent,
  setPointEvent,
  taperEvent,
  freeStrainEvent,
  rewindChange,
] as const
export type StageEvent = v.InferOutput<(typeof eventSchemas)[number]>
export type ZeroSpeedSplice = v.InferOutput<typeof zeroSpeedSplice>
export type Changeover = v.InferOutput<typeof changeover>
export type RewindChange = v.InferOutput<typeof rewindChange>
/** Events that lead the speed of the whole line. */
export type RampEvent =
  v.InferOutput<typeof startEvent> | v.InferOutput<typeof stopEvent> | v.InferOutput<typeof speedEvent>
export type SpliceEvent = ZeroSpeedSplice | v.InferOutput<typeof flyingSplice>

/** The shortest ramp that makes sense, s: a change of nothing still takes this long. */
const LEAST_RAMP = 1e-3

/** Whether an event brings a new roll of film at the unwind. */
export function isSplice(event: StageEvent): event is SpliceEvent {
  return event.do === 'zero-speed splice' || event.do === 'flying splice'
}

/** Whether an event leads the speed of the whole line. */
export function isRamp(event: StageEvent): event is RampEvent {
  return event.do === 'start' || event.do === 'stop' || event.do === 'speed'
}

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
  /** overspeed of the refill, 1 */
  refill: number
} {
  const rise = s.rampDown + s.hold
  const given = s.rampDown / 2 + s.hold + s.rampUp / 2
  const refill = Math.min(s.refill, Math.sqrt(given / s.rampUp))
  const over = rise + s.rampUp * (1 + refill)
  const back = over + (refill > 0 ? Math.max(0, given / refill - refill * s.rampUp) : 0)
  return { paste: s.rampDown + s.hold / 2, rise, over, back, end: back + s.rampUp * refill, refill }
}

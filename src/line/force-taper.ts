/**
 * Taper on the dancer before the winder: its force follows the diameter of the roll.
 *
 * Variables    dancer force P (N), roll radius R (m)
 * Parameters   tension at the core F0 and law: taper.ts; shares g_j of the dancer's strands, moving mass M, gravity g_z along the motion where it stands
 * Equations    P = F_set(R) sum g_j - M g_z: the strands pull F_set while the spring is at rest
 * Neglected    lag and friction of the actuator; the spring is not compensated
 * Source       statics
 */
import * as v from 'valibot'
import { nameText } from '../units'
import type { Carriage } from './carriage'
import type { Actor } from './part'
import type { Rollers } from './rollers'
import { taperFields, type TaperCourse } from './taper'

export const forceTaperSchema = v.strictObject({
  control: v.literal('force taper'),
  measures: nameText({ meaning: 'The roll whose diameter counts' }),
  drives: nameText({ meaning: 'The dancer whose force is set' }),
  ...taperFields,
})

export type ForceTaperSpec = v.InferOutput<typeof forceTaperSchema>

export class ForceTaper implements Actor {
  readonly name: string

  constructor(
    spec: ForceTaperSpec,
    private readonly dancer: Carriage,
    private readonly roller: number,
    private readonly rollers: Rollers,
    private readonly course: TaperCourse,
  ) {
    this.name = `taper of ${spec.drives}`
  }

  place(t: number, y: readonly number[]): void {
    const pull = this.course.at(t, this.rollers.estimate[this.roller]) * this.dancer.strands.total()
    this.dancer.ask(pull - this.dancer.weight(y))
  }
}

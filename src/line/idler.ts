/** An idler: turned by the film alone. Its mechanics are in rollers.ts. */
import * as v from 'valibot'
import { nameText } from '../units'
import type { PartDefinition } from './part'
import { rollerFields } from './roller-fields'

export const idlerSchema = v.strictObject({
  part: v.literal('idler'),
  ...rollerFields,
  rides: v.optional(nameText({ meaning: 'Dancer on whose carriage this idler rides, as in a festoon' })),
})

export type IdlerSpec = v.InferOutput<typeof idlerSchema>

export const idler: PartDefinition<IdlerSpec> = {
  part: 'idler',
  role: 'roller',
  schema: idlerSchema,
  build: (spec, assembly, place) => {
    const roller = assembly.roller({ ...spec, place, radius: spec.diameter / 2, nip: false, prescribed: false })
    if (spec.rides !== undefined) assembly.rides(spec.rides, roller, spec.wrap)
  },
}

/** The controls of a line: what each states, put together. */
import * as v from 'valibot'
import { forceTaperSchema } from './force-taper'
import { speedTensionTrim, torqueTensionTrim } from './tension-trim'
import { ratioTrimSchema, speedTrimSchema } from './trim'

export const controlSchema = v.variant('control', [
  v.variant('kind', [speedTrimSchema, ratioTrimSchema]),
  v.variant('kind', [speedTensionTrim, torqueTensionTrim]),
  forceTaperSchema,
])

/** Every control by itself, for the published schema. */
export const controlSchemas = [
  speedTrimSchema,
  ratioTrimSchema,
  speedTensionTrim,
  torqueTensionTrim,
  forceTaperSchema,
] as const

export type ControlSpec = v.InferOutput<typeof controlSchema>

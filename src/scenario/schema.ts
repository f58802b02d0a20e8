/** The whole scenario file, put together from the schemas of its parts. Types and the JSON Schema come from here too. */
import * as v from 'valibot'
import { filmSchema } from '../film/film'
import { controlSchema } from '../line/control'
import { partSchemas } from '../line/parts'
import { speedSchema } from '../line/speed'
import { eventSchemas } from '../line/stage'
import { freeText, nameText, tell } from '../units'
import { MOST_EVENTS, MOST_PARTS } from './limits'
import { FILE_VERSION } from './migrate'
import { limitsSchema, runSchema } from './settings'

const filmName = nameText({ meaning: 'Name by which rolls refer to the film' })

export const scenarioSchema = v.strictObject({
  spanwright: v.literal(FILE_VERSION),
  title: freeText({ meaning: 'Title, a line' }, 200),
  about: v.optional(freeText({ meaning: 'What this line shows' }, 10_000), ''),
  films: v.record(filmName, filmSchema),
  line: v.pipe(v.array(v.variant('part', partSchemas)), v.maxLength(MOST_PARTS, tell(`at most ${MOST_PARTS} parts`))),
  control: v.optional(v.array(controlSchema), []),
  speed: speedSchema,
  stage: v.optional(
    v.pipe(v.array(v.variant('do', eventSchemas)), v.maxLength(MOST_EVENTS, tell(`at most ${MOST_EVENTS} events`))),
    [],
  ),
  limits: v.optional(limitsSchema, {}),
  run: runSchema,
})

/** What is computed with: SI, defaults filled in. */
export type Scenario = v.InferOutput<typeof scenarioSchema>

/** What stands in the file: text with units, only what was written. */
export type ScenarioDocument = v.InferInput<typeof scenarioSchema>

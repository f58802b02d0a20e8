/**
 * The JSON Schema of the scenario file, for editors: made from the same schemas that read the file, with what they know of each
 * field. It is no stricter than the reading, which alone knows every spelling of a unit and how fields go together.
 */
import { toJsonSchema, type ConversionConfig, type JsonSchema } from '@valibot/to-json-schema'
import * as babel from 'prettier/plugins/babel'
import * as estree from 'prettier/plugins/estree'
import { format } from 'prettier/standalone'
import { filmSchema } from '../../src/film/film'
import { partSchemas } from '../../src/line/parts'
import { eventSchemas } from '../../src/line/stage'
import { controlSchemas } from '../../src/line/control'
import { scenarioSchema } from '../../src/scenario/schema'
import { exampleOf, fieldInfo, isObjectSchema, kinds, wordsOf, type AnySchema, type FieldInfo } from '../../src/units'

export const schemaFile = 'src/app/static/scenario.schema.json'

/** A number, then something that is not more of a number. */
export const quantityPattern =
  '^\\s*[+\\-−]?(\\d+(\\.\\d+)?|\\.\\d+)([eE][+\\-−]?\\d+)?\\s*(1\\s*/|s\\^|[^\\s\\d.,])[^,]*$'

const nameShape = { minLength: 1, maxLength: 60, pattern: '^[^/\\s]([^/]*[^/\\s])?$' }

type Notes = Record<string, unknown>

function notesOf(info: FieldInfo): Notes {
  const { meaning, usual, why, illustrative } = info.notes
  const sentences = [
    `${meaning}.`,
    usual ? `Usually ${usual.join(' to ')}${illustrative ? ' (illustrative)' : ''}.` : '',
    info.kind ? `Units: ${kinds[info.kind].units.join(', ')}.` : '',
    why ?? '',
  ]
  const example: unknown = JSON.parse(exampleOf(info))
  const shows = info.type === 'quantity' || info.type === 'number' || info.type === 'whole'
  return {
    description: sentences.filter((sentence) => sentence !== '').join(' '),
    ...(shows ? { examples: [example] } : {}),
  }
}

function shapeOf(info: FieldInfo): Notes {
  if (info.type === 'quantity') return { pattern: quantityPattern }
  if (info.type === 'name') return nameShape
  if (info.type !== 'number' && info.type !== 'whole') return {}
  return {
    ...(info.type === 'whole' ? { type: 'integer' } : {}),
    ...(info.above === undefined ? {} : { exclusiveMinimum: info.above }),
    ...(info.least === undefined ? {} : { minimum: info.least }),
    ...(info.most === undefined ? {} : { maximum: info.most }),
  }
}

function withNotes(plain: JsonSchema | boolean | undefined, schema: AnySchema): JsonSchema | boolean {
  const info = fieldInfo(schema)
  if (!info || typeof plain !== 'object') return plain ?? true
  return { ...plain, ...notesOf(info), ...shapeOf(info) }
}

const config: ConversionConfig = {
  target: 'draft-07',
  typeMode: 'input',
  errorMode: 'throw',
  // What a text or number must be beyond its type is told by the notes below.
  ignoreActions: ['raw_check', 'raw_transform', 'metadata'],
  overrideSchema: ({ valibotSchema, jsonSchema }) => {
    const schema: AnySchema = valibotSchema
    if (schema.type === 'record') return { ...jsonSchema, propertyNames: { type: 'string', ...nameShape } }
    if (!isObjectSchema(schema)) return undefined
    const entries = Object.entries(schema.entries)
    const properties = entries.map(([key, entry]) => [key, withNotes(jsonSchema.properties?.[key], entry)] as const)
    return { ...jsonSchema, properties: Object.fromEntries(properties) }
  },
}

/** Names under which editors show the pieces: the word by which a file chooses each. */
function definitions(): Record<string, AnySchema> {
  const chosen = [...partSchemas, ...eventSchemas, ...controlSchemas].map((schema: AnySchema) => {
    const words = isObjectSchema(schema)
      ? ['part', 'do', 'control', 'kind'].flatMap((key) => {
          const entry = schema.entries[key]
          return entry && entry.type === 'literal' ? wordsOf(entry) : []
        })
      : []
    return [words.join(' ').replaceAll(' ', '-'), schema] as const
  })
  return { film: filmSchema, ...Object.fromEntries(chosen) }
}

/** The text of the schema file. */
export async function jsonSchemaText(): Promise<string> {
  const plain = toJsonSchema(scenarioSchema, { ...config, definitions: definitions() })
  const titled = { ...plain, title: 'Spanwright scenario' }
  // As the formatter of the whole project would write it; its half for browsers runs under Vite too.
  return format(JSON.stringify(titled), { parser: 'json', printWidth: 120, plugins: [babel, estree] })
}

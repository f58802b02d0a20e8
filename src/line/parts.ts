/** The list of machine parts: adding a part is its file, its test file, and one line here. */
import type { InferOutput } from 'valibot'
import { bar, barSchema } from './bar'
import { dancer, dancerSchema } from './dancer'
import { driven, drivenSchema } from './driven'
import { idler, idlerSchema } from './idler'
import { rewind, rewindSchema } from './rewind'
import { span, spanSchema } from './span'
import { unwind, unwindSchema } from './unwind'

export const partSchemas = [
  unwindSchema,
  spanSchema,
  idlerSchema,
  barSchema,
  drivenSchema,
  dancerSchema,
  rewindSchema,
] as const
export const parts = { unwind, span, idler, bar, driven, dancer, rewind } as const

export type PartSpec = InferOutput<(typeof partSchemas)[number]>

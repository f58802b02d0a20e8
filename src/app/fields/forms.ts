/** The gains of a trim as controllers take them: ideal form, repeats a minute, percent of line speed for each percent. */
import * as v from 'valibot'
import { controlSchema } from '../../line/control'
import { formsOf, type FormBase, type LoopSpec } from '../../tune/forms'
import { formatNumber, formatQuantity, kinds, parseQuantity, type Kind } from '../../units'
import type { System } from '../shown'
import { at, listAt, type Json, type Path } from '../state/document'

const digits = 3

/** The same gains in other forms, as a line of text; empty for what is no trim, or cannot be read. */
export function otherForms(document: Json, path: Path, system: System): string {
  const read = v.safeParse(controlSchema, at(document, path))
  if (!read.success || read.output.control === 'force taper') return ''
  const trim: LoopSpec = read.output
  const base = baseOf(document, trim)
  const { ideal, repeatsPerMinute, relativeGain, relativeUnit, kinds: of } = formsOf(trim, base)
  const { integralTime, derivativeTime } = ideal
  const texts = [
    `gain ${formatQuantity(ideal.gain, kinds[of.gain][system], digits, of.gain)}`,
    integralTime === null
      ? 'no integral part'
      : `integral time ${formatNumber(integralTime, digits)} s (${formatNumber(repeatsPerMinute, digits)} repeats a minute)`,
    ...(derivativeTime > 0 ? [`derivative time ${formatNumber(derivativeTime, digits)} s`] : []),
    ...(relativeGain === null || !Number.isFinite(relativeGain)
      ? []
      : [`${formatNumber(relativeGain, digits)} ${relativeUnit}${speedWords(trim, base, system)}`]),
  ]
  return texts.join('; ')
}

/** A gain in speed is another share of line speed at each line speed: it is told which. */
const speedWords = ({ kind }: LoopSpec, { lineSpeed }: FormBase, system: System): string =>
  kind === 'speed' ? ` at ${formatQuantity(lineSpeed, kinds.speed[system], digits)}` : ''

function baseOf(document: Json, trim: LoopSpec): FormBase {
  const span = trim.control === 'tension trim' ? trim.tension : travelOf(document, trim.measures)
  return { lineSpeed: runningSpeed(document), span }
}

const valueOf = (document: Json, path: Path, kind: Kind): number => {
  const text = at(document, path)
  const parsed = typeof text === 'string' ? parseQuantity(text, kind) : undefined
  return parsed?.ok ? parsed.value : NaN
}

/** Between the stops of a dancer, m. */
function travelOf(document: Json, name: string): number {
  const place = listAt(document, 'line').findIndex((part) => at(part, ['name']) === name)
  const stop = (key: string) => valueOf(document, ['line', place, key], 'travel')
  return stop('upperStop') - stop('lowerStop')
}

/** The speed that the run starts with, or where it starts at rest the first that it is led to. */
function runningSpeed(document: Json): number {
  const start = valueOf(document, ['speed', 'start'], 'speed')
  if (start > 0) return start
  const first = listAt(document, 'stage').findIndex((event) => at(event, ['do']) === 'start')
  const led = valueOf(document, ['stage', first, 'to'], 'speed')
  return led > 0 ? led : 0
}

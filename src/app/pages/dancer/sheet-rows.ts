/** What stands on the settings sheet: numbers of dancer and trims, and whatever else was changed, old and new. */
import type { LoopSpec, ControllerForms } from '../../../tune/forms'
import { formsOf } from '../../../tune/forms'
import { scenarioSchema, type Scenario } from '../../../scenario/schema'
import { kinds, toUnit, type Kind } from '../../../units'
import { digits } from '../../charts/graph'
import { fieldGroups } from '../../fields/catalogue'
import { textIn } from '../../fields/entry'
import type { System } from '../../shown'
import { at, type Json } from '../../state/document'

export interface SheetRow {
  readonly key: string
  readonly part: string
  readonly number: string
  readonly old: string
  readonly now: string
  readonly changed: boolean
  readonly why: string
}

interface Given {
  readonly document: Json
  readonly own: Json
  readonly changed: ReadonlySet<string>
  readonly reasons: ReadonlyMap<string, string>
  readonly system: System
}

/** Of dancers and trims all that the panel of numbers shows; of other parts what was changed. */
export function sheetRows({ document, own, changed, reasons, system }: Given): SheetRow[] {
  return fieldGroups(document, scenarioSchema).flatMap((group) => {
    const kind = at(document, [...group.key.split('/').map(keyOf), 'part'])
    const wanted = kind === 'dancer' || group.key.startsWith('control/')
    return group.fields
      .filter(({ key }) => wanted || changed.has(key))
      .map((field): SheetRow => {
        const before = at(own, field.path)
        const { notes } = field.info
        const isChanged = changed.has(field.key)
        const value = before ?? field.info.fallback
        const old =
          typeof value === 'string' || typeof value === 'number' ? textIn({ ...field, value }, system) : 'none'
        return {
          key: field.key,
          part: group.key.startsWith('control/') ? `${group.title} ${group.note}` : group.title,
          number: field.label,
          old,
          now: textIn(field, system),
          changed: isChanged,
          why: isChanged ? (reasons.get(field.key) ?? 'Set by hand.') : (notes.why ?? ''),
        }
      })
  })
}

const keyOf = (word: string) => (/^\d+$/.test(word) ? Number(word) : word)

export interface FormRow {
  readonly key: string
  readonly trim: string
  readonly number: string
  readonly unit: string
  readonly old: string
  readonly now: string
}

/** The gains of each trim in the forms in which controllers take them. */
export function formRows(scenario: Scenario, own: Scenario | undefined, system: System): FormRow[] {
  return scenario.control.flatMap((trim, place) => {
    if (trim.control === 'force taper') return []
    const name = `${trim.control} ${trim.measures} → ${trim.drives}`
    const before = own?.control[place]
    const [now, old] = [
      formsOf(trim, baseOf(scenario, trim)),
      own && before && before.control === trim.control ? formsOf(before, baseOf(own, before)) : undefined,
    ]
    return rowsOf(now, old, system).map((row) => ({ ...row, key: `${place}/${row.number}`, trim: name }))
  })
}

function baseOf(scenario: Scenario, trim: LoopSpec): { lineSpeed: number; span: number } {
  const dancer = scenario.line.find((part) => part.part === 'dancer' && part.name === trim.measures)
  const span =
    trim.control === 'tension trim' ? trim.tension : dancer?.part === 'dancer' ? dancer.upperStop - dancer.lowerStop : 1
  return { lineSpeed: scenario.speed.start, span }
}

function rowsOf(
  now: ControllerForms,
  old: ControllerForms | undefined,
  system: System,
): Omit<FormRow, 'key' | 'trim'>[] {
  const shown = (value: number | null | undefined, kind?: Kind): string => {
    if (value === null) return 'none'
    if (value === undefined) return '—'
    return digits(kind === undefined ? value : toUnit(value, kinds[kind][system], kind), 4)
  }
  const row = (number: string, unit: string, get: (forms: ControllerForms) => number | null, kind?: Kind) => ({
    number,
    unit,
    old: shown(old === undefined ? undefined : get(old), kind),
    now: shown(get(now), kind),
  })
  const { gain, integral } = now.kinds
  return [
    row('Gain Kp', kinds[gain][system], (forms) => forms.parallel.gain, gain),
    row('Integral gain Ki, parallel form', kinds[integral][system], (forms) => forms.parallel.integral, integral),
    row('Integral time Ti = Kp/Ki, ideal form', 's', (forms) => forms.ideal.integralTime),
    row('Derivative time Td, ideal form', 's', (forms) => forms.ideal.derivativeTime),
    row('Repeats a minute, 60/Ti', '1/min', (forms) => forms.repeatsPerMinute),
    row('Gain in per cent', now.relativeUnit, (forms) => forms.relativeGain),
  ]
}

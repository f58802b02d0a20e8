/** What stands on the settings sheet: numbers of dancer and trims, and whatever else was changed, old and new. */
import type { Change } from '../../../tune/advice-box'
import { sheetRows as trimForms } from '../../../tune/sheet'
import { scenarioSchema, type Scenario } from '../../../scenario/schema'
import { kinds, toUnit } from '../../../units'
import { digits } from '../../charts/graph'
import { fieldGroups } from '../../fields/catalogue'
import { textIn } from '../../fields/entry'
import type { System } from '../../shown'
import { at, pathOf, type Json } from '../../state/document'

/** What advice has set, and why, by path. */
type Advised = ReadonlyMap<string, Change & { readonly why: string }>

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
  readonly advised: Advised
  readonly system: System
}

/** Of dancers and trims all that the panel of numbers shows; of other parts what was changed. */
export function sheetRows({ document, own, changed, advised, system }: Given): SheetRow[] {
  return fieldGroups(document, scenarioSchema).flatMap((group) => {
    const kind = at(document, [...pathOf(group.key), 'part'])
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
          why: isChanged ? (advised.get(field.key)?.why ?? 'Set by hand.') : (notes.why ?? ''),
        }
      })
  })
}

export interface FormRow {
  readonly key: string
  readonly part: string
  readonly quantity: string
  readonly unit: string
  readonly old: string
  readonly now: string
  readonly why: string
}

/** The gains of a dancer's trim in each of the forms in which controllers take them. */
export function formRows(own: Scenario, now: Scenario, dancer: string, advised: Advised, system: System): FormRow[] {
  const rows = trimForms(own, now, dancer, [...advised.values()])
  return rows.flatMap(({ part, quantity, form, old, new: next, kind, unit, why }) => {
    if (form === undefined) return []
    const shown = (value: number | null) =>
      value === null ? 'none' : digits(kind === undefined ? value : toUnit(value, kinds[kind][system], kind), 4)
    const isSame = shown(old) === shown(next)
    return [
      {
        key: `${part}/${form}/${quantity}`,
        part: `${part}, ${form} form`,
        quantity,
        unit: kind === undefined ? (unit ?? '') : kinds[kind][system],
        old: shown(old),
        now: shown(next),
        why: isSame ? '' : why === 'as it was' ? 'Set by hand.' : why,
      },
    ]
  })
}

/**
 * The settings sheet: what to carry to the panel, number by number, in the controller's own form.
 *
 * Source       forms.ts; which form a controller takes stands in its handbook
 */
import type { RunScenario } from '../run/run'
import type { Kind } from '../units'
import { subjectOf, type Change, type Subject } from './advice-box'
import { formsOf, type ControllerForms, type LoopSpec } from './forms'

export type SheetForm = 'parallel' | 'ideal' | 'repeats a minute' | 'relative'

export interface SheetRow {
  readonly part: string
  readonly quantity: string
  /** SI; null where there is none, such as the integral time of a trim without an integral part */
  readonly old: number | null
  readonly new: number | null
  /** of a quantity; else what `unit` says */
  readonly kind: Kind | undefined
  readonly unit: string | undefined
  readonly form: SheetForm | undefined
  readonly why: string
}

/** Rows for the changes of one dancer and its trim. What has not changed stands there too, so that the sheet is whole. */
export function sheetRows(
  before: RunScenario,
  after: RunScenario,
  dancer: string,
  changes: readonly (Change & { readonly why: string })[],
): SheetRow[] {
  const [old, next] = [subjectOf(before, dancer), subjectOf(after, dancer)]
  if (old === undefined || next === undefined) return []
  const why = (name: string) => changes.find((c) => c.name === name)?.why ?? 'as it was'
  const rows = dancerRows(old, next, why)
  if (old.trim === undefined || next.trim === undefined) return rows
  return [...rows, ...trimRows(before.speed.start, old, next, [old.trim, next.trim], why)]
}

function dancerRows(old: Subject, next: Subject, why: (name: string) => string): SheetRow[] {
  const row = (quantity: string, kind: Kind, from: number | undefined, to: number | undefined): SheetRow[] => {
    if (from === undefined || to === undefined) return []
    const common = { part: old.dancer.name, quantity, kind, unit: undefined, form: undefined }
    return [{ ...common, old: from, new: to, why: why(quantity) }]
  }
  return [
    ...row('stiffness', 'stiffness', old.dancer.stiffness, next.dancer.stiffness),
    ...row('damping', 'damping', old.dancer.damping, next.dancer.damping),
    ...row('force', 'force', old.dancer.force, next.dancer.force),
    ...row('pressure', 'pressure', old.dancer.cylinder?.pressure, next.dancer.cylinder?.pressure),
    ...row('rest of the spring', 'travel', old.dancer.springZero, next.dancer.springZero),
  ]
}

function trimRows(
  lineSpeed: number,
  old: Subject,
  next: Subject,
  [from, to]: readonly [LoopSpec, LoopSpec],
  why: (name: string) => string,
): SheetRow[] {
  const base = ({ dancer }: Subject) => ({ lineSpeed, span: dancer.upperStop - dancer.lowerStop })
  const [a, b] = [formsOf(from, base(old)), formsOf(to, base(next))]
  const part = `trim of ${from.drives}`
  const row = (
    quantity: string,
    form: SheetForm,
    read: (f: ControllerForms) => number | null,
    as: { kind: Kind } | { unit: string },
    reason: string,
  ): SheetRow => ({
    ...{ part, quantity, form, old: read(a), new: read(b), why: why(reason) },
    kind: 'kind' in as ? as.kind : undefined,
    unit: 'unit' in as ? as.unit : undefined,
  })
  return [
    row('gain', 'parallel', (f) => f.parallel.gain, { kind: a.kinds.gain }, 'gain'),
    row('integral gain', 'parallel', (f) => f.parallel.integral, { kind: a.kinds.integral }, 'integral gain'),
    row('gain', 'ideal', (f) => f.ideal.gain, { kind: a.kinds.gain }, 'gain'),
    row('integral time', 'ideal', (f) => f.ideal.integralTime, { kind: 'time' }, 'integral gain'),
    row('derivative time', 'ideal', (f) => f.ideal.derivativeTime, { kind: 'time' }, 'derivative time'),
    row('repeats', 'repeats a minute', (f) => f.repeatsPerMinute, { unit: '1/min' }, 'integral gain'),
    row('gain', 'relative', (f) => f.relativeGain, { unit: a.relativeUnit }, 'gain'),
  ]
}

/**
 * How well every roller of a line must be aligned, from the scenario and the tensions that a run has met.
 *
 * Each span is held against the limits with the least and with the greatest tension of the run, and with every film that passes;
 * the worst counts. Spans go between rollers that the film touches; a dancer's spans have their stated length.
 */
import { Assembly, type LineSpec } from '../line/assembly'
import type { PartSpec } from '../line/parts'
import { assess, type Assessment } from './assess'
import type { Setting } from './setting'

/** What is used of a finished run's spans. */
export interface SpanTension {
  readonly name: string
  /** N */
  readonly tension: { readonly min: number; readonly max: number }
}

export interface LineSpan {
  readonly name: string
  /** index of the downstream roller in the scenario's line */
  readonly place: number
  /** m, free length */
  readonly length: number
  /** N */
  readonly tension: SpanTension['tension']
  /** N and film, with which it is worst; null when film hangs slack: then nothing holds it flat */
  readonly worst: { readonly tension: number; readonly film: string; readonly assessment: Assessment } | null
}

const filmsOf = (spec: LineSpec): string[] => {
  const first = spec.line.flatMap((part) => (part.part === 'unwind' ? [part.film] : []))
  const spliced = spec.stage.flatMap((event) => ('film' in event && 'roll' in event ? [event.film] : []))
  return [...new Set([...first, ...spliced])]
}

const speedOf = (spec: LineSpec): number =>
  Math.max(spec.speed.start, ...spec.stage.map((e) => (e.do === 'speed' || e.do === 'start' ? e.to : 0)))

/** Roughness where the part states one: rolls of film do not. */
const roughnessOf = (part: PartSpec | undefined, film: number): number =>
  part !== undefined && 'roughness' in part ? part.roughness : film

/** Worst first; film that hangs slack before all others. */
export function lineSpans(spec: LineSpec, tensions: readonly SpanTension[]): LineSpan[] {
  const assembly = new Assembly(spec)
  const [films, speed] = [filmsOf(spec), speedOf(spec)]
  const found = assembly.spans.flatMap((span, j): LineSpan[] => {
    const met = tensions.find(({ name }) => name === span.name)
    const roller = assembly.rollers[j + 1]
    if (met === undefined || roller === undefined || span.free <= 0) return []
    const settings = films.flatMap((film) =>
      [met.tension.min, met.tension.max].map((tension) => ({
        ...{ film, tension },
        setting: settingOf(spec, film, span.free, tension, roller, speed),
      })),
    )
    const slack = !(met.tension.min > 0)
    const ranked = slack ? [] : settings.map(({ setting, ...rest }) => ({ ...rest, assessment: assess(setting) }))
    ranked.sort((a, b) => criticalOf(a) - criticalOf(b))
    const common = { name: span.name, place: roller.place, length: span.free, tension: met.tension }
    return [{ ...common, worst: ranked[0] ?? null }]
  })
  return found.sort((a, b) => needed(a) - needed(b))
}

const criticalOf = ({ assessment }: { readonly assessment: Assessment }): number => assessment.flatUpTo

/** rad, alignment up to which the film runs flat: neither troughs (by the peak of shear) nor a slack edge. 0 where film hangs slack. */
export const needed = (span: LineSpan): number => (span.worst === null ? 0 : criticalOf(span.worst))

function settingOf(
  spec: LineSpec,
  name: string,
  length: number,
  tension: number,
  roller: Assembly['rollers'][number],
  speed: number,
): Setting {
  const film = spec.films[name]
  if (film === undefined) throw new RangeError(`no film named ${name}`)
  return {
    ...film,
    ...{
      length,
      speed,
      tension: tension / film.width,
      radius: roller.radius,
      friction: roller.friction,
      nip: roller.nip,
    },
    ...{ filmRoughness: film.roughness, rollerRoughness: roughnessOf(spec.line[roller.place], film.roughness) },
    ...{ misalignment: 0, heat: 0, fall: 0 },
  }
}

/** The speeds that the stage leads: of the line, of an unwind that stands during a splice, of rollers that index. */
import { Courses } from '../../line/courses'
import type { Profile } from '../../line/profile'
import { drawStroke, visible } from '../charts/strokes'
import type { Range } from '../charts/ranges'
import type { Scenario } from '../../scenario/schema'

export interface Curve {
  readonly name: string
  readonly role: 'line' | 'unwind' | 'feed'
  readonly time: Float64Array
  /** m/s */
  readonly values: Float64Array
}

/** Between two corners a course bends smoothly: so many points show it. */
const between = 8

/** The scenario must have been read, and so have passed its checks. */
export function curvesOf({ speed, stage, run, line }: Scenario): Curve[] {
  const courses = new Courses(speed, stage, run.for)
  const curves: Curve[] = [curveOf('line speed', 'line', courses.line, run.for)]
  if (stage.some((event) => event.do === 'zero-speed splice')) {
    curves.push(curveOf(line[0]?.part === 'unwind' ? line[0].name : 'unwind', 'unwind', courses.unwind, run.for))
  }
  for (const part of line) {
    const indexes = stage.some((e) => e.do === 'changeover' && part.part === 'driven' && e.roller === part.name)
    if (part.part !== 'driven' || part.index === undefined || !indexes) continue
    curves.push(curveOf(part.name, 'feed', courses.feed(part.name, part.index), run.for))
  }
  return curves
}

function curveOf(name: string, role: Curve['role'], profile: Profile, duration: number): Curve {
  const inside = profile.corners().filter((corner) => corner > 0 && corner < duration)
  const corners = [0, ...inside, duration]
  const times = corners.flatMap((corner, k) => {
    const before = corners[k - 1] ?? 0
    const steps = k === 0 ? 1 : between
    return Array.from({ length: steps }, (_, i) => before + ((corner - before) * (i + 1)) / steps)
  })
  const time = Float64Array.from(times)
  const values = time.map((t) => {
    profile.enter(t)
    return profile.value(t)
  })
  return { name, role, time, values }
}

/** The highest speed of all, m/s; at least a little. */
export const topOf = (curves: readonly Curve[]): number =>
  curves.reduce((top, { values }) => values.reduce((most, value) => Math.max(most, value), top), 1e-3)

/** A curve as the path of an SVG, in CSS pixels. */
export function pathOf(
  { time, values }: Curve,
  window: Range,
  x: (time: number) => number,
  y: (value: number) => number,
): string {
  const parts: string[] = []
  const pen = {
    moveTo: (left: number, top: number) => parts.push(`M${left} ${top.toFixed(1)}`),
    lineTo: (left: number, top: number) => parts.push(`L${left} ${top.toFixed(1)}`),
  }
  const { from, to } = visible(time, time.length, window.min, window.max)
  drawStroke(pen, { time, values, lifts: [] }, from, to, x, y)
  return parts.join('')
}

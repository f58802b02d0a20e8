/** Paints a scene on a canvas, in the colours of the theme. */
import type { Palette } from '../../charts/picture'
import type { Line, Point, Ribbon, Scene } from './scene'

type Colour = readonly [number, number, number]

/** Undefined where the theme names a system colour: then shades are left to the lines. */
function read(text: string): Colour | undefined {
  const hex = /^#([0-9a-f]{2})([0-9a-f]{2})([0-9a-f]{2})$/i.exec(text)
  if (hex) return [parseInt(hex[1], 16), parseInt(hex[2], 16), parseInt(hex[3], 16)]
  const rgb = /^rgb\((\d+),(\d+),(\d+)\)$/.exec(text)
  return rgb ? [Number(rgb[1]), Number(rgb[2]), Number(rgb[3])] : undefined
}

function mixed(from: string, to: string, share: number): string {
  const [a, b] = [read(from), read(to)]
  if (a === undefined || b === undefined) return from
  const [r, g, blue] = a.map((value, k) => Math.round(value + share * (b[k] - value)))
  return `rgb(${r},${g},${blue})`
}

function trace(context: CanvasRenderingContext2D, line: Line): void {
  context.beginPath()
  line.forEach((p, i) => (i === 0 ? context.moveTo(p.x, p.y) : context.lineTo(p.x, p.y)))
}

function area(context: CanvasRenderingContext2D, line: Line, fill: string, stroke: string, width = 1): void {
  trace(context, line)
  context.closePath()
  context.fillStyle = fill
  context.fill()
  context.strokeStyle = stroke
  context.lineWidth = width
  context.stroke()
}

export interface Paint {
  readonly palette: Palette
  /** colour of the film: what it feels along the line, share of its elastic limit */
  readonly film: string
  /** how steep the troughs are drawn, 0..1 */
  readonly steepness: number
}

export function paintScene(context: CanvasRenderingContext2D, scene: Scene, paint: Paint): void {
  const { palette } = paint
  const film = mixed(palette.sheet, paint.film, 0.3)
  const [behind, before] = scene.rollers
  roller(context, behind, palette)
  area(context, scene.before, mixed(film, palette.steel, 0.25), palette.soft)
  roller(context, before, palette)
  area(context, scene.after, mixed(film, palette.steel, 0.12), palette.soft)
  area(context, scene.film, film, palette.soft)
  context.save()
  trace(context, scene.film)
  context.clip()
  for (const ribbon of scene.ribbons) paintRibbon(context, ribbon, film, paint)
  context.strokeStyle = mixed(film, palette.ink, 0.55)
  context.lineWidth = 0.9
  for (const crest of scene.crests) {
    trace(context, crest)
    context.stroke()
  }
  context.restore()
  trace(context, scene.film)
  context.closePath()
  context.strokeStyle = palette.soft
  context.lineWidth = 1
  context.stroke()
  for (const fold of scene.folds) paintFold(context, fold, palette)
  arrow(context, scene.arrow, palette.soft)
}

function roller(context: CanvasRenderingContext2D, { body, cap }: Scene['rollers'][number], palette: Palette): void {
  area(context, body, mixed(palette.sheet, palette.steel, 0.45), palette.steel)
  area(context, cap, mixed(palette.sheet, palette.steel, 0.2), palette.steel)
}

/** Light falls from one side: one flank of a trough is bright, the other dark, and flat film between. */
function paintRibbon(
  context: CanvasRenderingContext2D,
  { outline, ends, slope }: Ribbon,
  film: string,
  { palette, steepness }: Paint,
): void {
  const flat = film
  const towards = slope < 0 ? palette.ink : '#ffffff'
  const shade = mixed(flat, towards, Math.abs(slope) * steepness * (slope < 0 ? 0.62 : 0.5))
  const [a, b] = ends
  const gradient = context.createLinearGradient(a.x, a.y, b.x, b.y)
  gradient.addColorStop(0, flat)
  gradient.addColorStop(0.25, mixed(flat, shade, 0.75))
  gradient.addColorStop(0.5, shade)
  gradient.addColorStop(0.75, mixed(flat, shade, 0.75))
  gradient.addColorStop(1, flat)
  trace(context, outline)
  context.fillStyle = gradient
  context.fill()
}

function paintFold(context: CanvasRenderingContext2D, line: Line, palette: Palette): void {
  context.save()
  context.lineJoin = context.lineCap = 'round'
  for (const [colour, width] of [
    [palette.sheet, 8],
    [palette.bad, 5],
    [palette.sheet, 1.2],
  ] as const) {
    trace(context, line)
    context.strokeStyle = colour
    context.lineWidth = width
    context.stroke()
  }
  context.restore()
}

function arrow(context: CanvasRenderingContext2D, [from, to]: readonly [Point, Point], colour: string): void {
  const angle = Math.atan2(to.y - from.y, to.x - from.x)
  const wing = (by: number): Point => ({ x: to.x - 9 * Math.cos(angle + by), y: to.y - 9 * Math.sin(angle + by) })
  context.strokeStyle = colour
  context.lineWidth = 1.5
  for (const line of [
    [from, to],
    [wing(0.45), to, wing(-0.45)],
  ]) {
    trace(context, line)
    context.stroke()
  }
}

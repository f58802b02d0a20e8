/** What lies behind and over the traces: band, levels with names, the run before, instants, peaks. Canvas pixels. */
import { alongLine, aroundPoint, firstFree, type Box } from './labels'
import { within } from './levels'
import type { Outlines } from './outline'
import type { Line, Mark, Palette, Picture, Signal, Stretch } from './picture'
import { pinDashes, type PinnedLine } from './pinned'
import { recordedDash, recordedName } from './recorded'
import type { Range } from './ranges'
import { samplesUntil, visible, type Place } from './strokes'

export interface Sheet {
  readonly context: CanvasRenderingContext2D
  readonly frame: Box
  readonly x: Place
  readonly y: Place
  /** canvas pixels per CSS pixel */
  readonly scale: number
  readonly palette: Palette
  readonly outlines: Outlines
  /** Boxes that labels have taken so far. */
  readonly taken: Box[]
}

const fontSize = 12

/** Draws inside the frame only. */
function inFrame({ context, frame }: Sheet, draw: () => void): void {
  context.save()
  context.beginPath()
  context.rect(frame.left, frame.top, frame.width, frame.height)
  context.clip()
  draw()
  context.restore()
}

/** Before the grid. */
export function drawUnder(sheet: Sheet, picture: Picture): void {
  inFrame(sheet, () => drawBand(sheet, picture))
}

/** Between grid and traces. */
export function drawBehind(sheet: Sheet, picture: Picture): void {
  inFrame(sheet, () => {
    drawMoments(sheet, picture)
    drawGhosts(sheet, picture)
    for (const mark of picture.marks) drawLevel(sheet, mark, picture.x)
  })
}

/** The traces, and what stands before them. */
export function drawInFront(sheet: Sheet, picture: Picture): void {
  inFrame(sheet, () => {
    for (const line of picture.lines) drawSignal(sheet, line, picture)
    drawPinned(sheet, picture)
    drawRecorded(sheet, picture)
    for (const peak of picture.peaks) drawPeak(sheet, peak)
    drawMarkLabels(sheet, picture)
  })
}

/** The run of a level through the picture, from its left to its right end. */
function trackOf({ x, y }: Sheet, level: readonly Stretch[], window: Range): [number, number][] {
  return within(level, window).flatMap(({ from, to, value }): [number, number][] => {
    const at = Math.round(y(value)) + 0.5
    return [
      [x(from), at],
      [x(to), at],
    ]
  })
}

function drawBand(sheet: Sheet, { band, x }: Picture): void {
  if (!band) return
  const { context, palette } = sheet
  context.fillStyle = palette.band
  context.beginPath()
  for (const [px, py] of trackOf(sheet, band.upper, x)) context.lineTo(px, py)
  for (const [px, py] of trackOf(sheet, band.lower, x).reverse()) context.lineTo(px, py)
  context.fill()
}

function drawMoments({ context, frame, x, scale, palette }: Sheet, { moments }: Picture): void {
  context.strokeStyle = palette.steel
  context.lineWidth = scale
  context.setLineDash([2 * scale, 3 * scale])
  context.beginPath()
  for (const time of moments) {
    const at = Math.round(x(time)) + 0.5
    context.moveTo(at, frame.top)
    context.lineTo(at, frame.top + frame.height)
  }
  context.stroke()
  context.setLineDash([])
}

function drawGhosts(sheet: Sheet, picture: Picture): void {
  const { steel } = sheet.palette
  for (const { signal, width } of picture.ghosts) {
    drawSignal(sheet, { signal, width, colour: steel, dash: [] }, picture)
  }
}

function drawSignal(sheet: Sheet, { signal, colour, width, dash }: Line, { x: window, y: range }: Picture): void {
  const { context, scale, x, y } = sheet
  const { from, to } = visible(signal.time, signal.values.length, window.min, window.max)
  const outline = sheet.outlines.of(signal.run, signal.index)
  const slope = (x(window.max) - x(window.min)) / (window.max - window.min)
  outline.reach(signal, from, to, { start: x(0), slope })
  const perUnit = (y(range.max) - y(range.min)) / (range.max - range.min)
  const path = new Path2D()
  path.addPath(outline.path, { a: 1, b: 0, c: 0, d: perUnit * signal.factor, e: 0, f: y(0) })
  context.strokeStyle = colour
  context.lineWidth = width * scale
  context.lineJoin = 'round'
  context.setLineDash(dash.map((length) => length * scale))
  context.stroke(path)
  context.setLineDash([])
}

/** In ink over the colours, so that the run in hand is seen beneath where both are alike. */
function drawPinned(sheet: Sheet, picture: Picture): void {
  const { ink } = sheet.palette
  for (const { signal, mark } of picture.pinned) {
    drawSignal(sheet, { signal, width: 1.7, colour: ink, dash: pinDashes[mark] ?? [] }, picture)
  }
  for (const line of picture.pinned) drawLetter(sheet, line, picture)
}

function drawRecorded(sheet: Sheet, picture: Picture): void {
  const { ink } = sheet.palette
  for (const signal of picture.recorded) {
    drawSignal(sheet, { signal, width: 1.3, colour: ink, dash: recordedDash }, picture)
    drawName(sheet, signal, recordedName, -0.03, picture)
  }
}

/** Each run's letters stand at another place along its line. */
const drawLetter = (sheet: Sheet, { signal, letter, mark }: PinnedLine, picture: Picture): void =>
  drawName(sheet, signal, letter, 0.07 * mark, picture)

/** Beside its line. */
function drawName(sheet: Sheet, signal: Signal, name: string, off: number, { x: window }: Picture): void {
  const { frame, scale, palette, x, y } = sheet
  const { width, height } = sizeOf(sheet, name, true)
  for (const share of [0.06, 0.36, 0.66]) {
    const time = window.min + (window.max - window.min) * (share + off)
    const sample = samplesUntil(signal.time, signal.values.length, time) - 1
    const value = signal.values[sample]
    if (value === undefined || sample === signal.values.length - 1) continue
    const places = aroundPoint(x(time), y(value * signal.factor), width, height, 3 * scale)
    const box = firstFree(places, sheet.taken, frame)
    if (!box) continue
    write(sheet, name, box, palette.ink, true)
    return
  }
}

function drawLevel(sheet: Sheet, { level, colour, dash }: Mark, window: Range): void {
  const { context, scale } = sheet
  context.strokeStyle = colour
  context.lineWidth = 1.3 * scale
  context.setLineDash(dash.map((length) => length * scale))
  context.beginPath()
  trackOf(sheet, level, window).forEach(([px, py], i) => (i === 0 ? context.moveTo(px, py) : context.lineTo(px, py)))
  context.stroke()
  context.setLineDash([])
}

/** Each value of a level is named, on its own stretch. */
function drawMarkLabels(sheet: Sheet, picture: Picture): void {
  for (const mark of picture.marks) {
    for (const stretch of within(mark.level, picture.x)) drawMarkLabel(sheet, mark, stretch, picture.y)
  }
}

/** On its line, or at the edge beyond which it lies, with an arrow. */
function drawMarkLabel(sheet: Sheet, mark: Mark, { from, to, value }: Stretch, range: Range): void {
  const { label, colour, hangs, near } = mark
  const { x, y, scale } = sheet
  const frame = { ...sheet.frame, left: x(from), width: x(to) - x(from) }
  const above = value > range.max
  const below = value < range.min
  if (near && (above || below)) return
  const text = `${above ? '↑ ' : below ? '↓ ' : ''}${label(value)}`
  const { width, height } = sizeOf(sheet, text, false)
  const edge = above ? frame.top + scale : frame.top + frame.height - height - scale
  const inward = (above ? 1 : -1) * height
  const beside = [y(value) - height - 2 * scale, y(value) + 3 * scale]
  const tops = above || below ? [edge, edge + inward] : hangs ? beside.reverse() : beside
  const box = firstFree(alongLine(tops, width, height, frame), sheet.taken, frame)
  if (box) write(sheet, text, box, colour, false)
}

function drawPeak(sheet: Sheet, peak: Picture['peaks'][number]): void {
  const { context, frame, scale, palette } = sheet
  const [px, py] = [sheet.x(peak.time), sheet.y(peak.value)]
  if (px < frame.left || px > frame.left + frame.width) return
  context.beginPath()
  context.arc(px, py, 3.5 * scale, 0, Math.PI * 2)
  context.fillStyle = peak.colour
  context.fill()
  context.strokeStyle = palette.sheet
  context.lineWidth = 1.5 * scale
  context.stroke()
  const { width, height } = sizeOf(sheet, peak.label, true)
  const box = firstFree(aroundPoint(px, py, width, height, 7 * scale), sheet.taken, frame)
  if (box) write(sheet, peak.label, box, palette.ink, true)
}

function font({ scale }: Sheet, strong: boolean): string {
  return `${strong ? '600 ' : ''}${fontSize * scale}px system-ui, sans-serif`
}

function sizeOf(sheet: Sheet, text: string, strong: boolean): { width: number; height: number } {
  sheet.context.font = font(sheet, strong)
  return { width: Math.ceil(sheet.context.measureText(text).width), height: (fontSize + 3) * sheet.scale }
}

/** With a rim in the sheet's colour, so that it reads over lines. */
function write(sheet: Sheet, text: string, box: Box, colour: string, strong: boolean): void {
  const { context, palette, scale } = sheet
  context.font = font(sheet, strong)
  context.textAlign = 'left'
  context.textBaseline = 'middle'
  context.lineJoin = 'round'
  context.strokeStyle = palette.sheet
  context.lineWidth = 3 * scale
  const middle = box.top + box.height / 2
  context.strokeText(text, box.left, middle)
  context.fillStyle = colour
  context.fillText(text, box.left, middle)
  sheet.taken.push(box)
}

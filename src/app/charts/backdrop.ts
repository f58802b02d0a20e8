/** What lies behind and over the traces: band, levels with names, the run before, instants, peaks. Canvas pixels. */
import { alongLine, aroundPoint, firstFree, type Box } from './labels'
import type { Palette, Picture } from './picture'
import { drawStroke, visible, type Place } from './strokes'

export interface Sheet {
  readonly context: CanvasRenderingContext2D
  readonly frame: Box
  readonly x: Place
  readonly y: Place
  /** canvas pixels per CSS pixel */
  readonly scale: number
  readonly palette: Palette
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
    for (const { value, colour, dash } of picture.marks) {
      if (value >= picture.y.min && value <= picture.y.max) drawLevel(sheet, sheet.y(value), colour, dash)
    }
  })
}

/** After the traces. */
export function drawInFront(sheet: Sheet, picture: Picture): void {
  inFrame(sheet, () => {
    for (const peak of picture.peaks) drawPeak(sheet, peak)
    drawMarkLabels(sheet, picture)
  })
}

function drawBand({ context, frame, y, palette }: Sheet, { band }: Picture): void {
  if (!band) return
  const top = y(band.max)
  context.fillStyle = palette.band
  context.fillRect(frame.left, top, frame.width, y(band.min) - top)
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

function drawGhosts({ context, x, y, scale, palette }: Sheet, { ghosts, x: window }: Picture): void {
  context.strokeStyle = palette.steel
  context.lineJoin = 'round'
  for (const ghost of ghosts) {
    const { from, to } = visible(ghost.time, ghost.values.length, window.min, window.max)
    context.lineWidth = ghost.width * scale
    context.beginPath()
    drawStroke(context, ghost, from, to, x, y)
    context.stroke()
  }
}

function drawLevel({ context, frame, scale }: Sheet, at: number, colour: string, dash: readonly number[]): void {
  context.strokeStyle = colour
  context.lineWidth = 1.3 * scale
  context.setLineDash(dash.map((length) => length * scale))
  context.beginPath()
  context.moveTo(frame.left, Math.round(at) + 0.5)
  context.lineTo(frame.left + frame.width, Math.round(at) + 0.5)
  context.stroke()
  context.setLineDash([])
}

/** Labels of levels stand on their lines; of levels out of the picture at the edge, with an arrow. */
function drawMarkLabels(sheet: Sheet, picture: Picture): void {
  const { frame, y, scale } = sheet
  for (const { value, label, colour, hangs } of picture.marks) {
    const above = value > picture.y.max
    const below = value < picture.y.min
    const text = above ? `↑ ${label}` : below ? `↓ ${label}` : label
    const { width, height } = sizeOf(sheet, text, false)
    const edge = above ? frame.top + scale : frame.top + frame.height - height - scale
    const inward = (above ? 1 : -1) * height
    const beside = [y(value) - height - 2 * scale, y(value) + 3 * scale]
    const tops = above || below ? [edge, edge + inward] : hangs ? beside.reverse() : beside
    const places = alongLine(tops, width, height, frame)
    const box = firstFree(places, sheet.taken, frame)
    if (box) write(sheet, text, box, colour, false)
  }
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

/** A tagged PDF with an outline, as Chromium writes it: its text page by page, and where its headings stand. */
import { inflateSync } from 'node:zlib'

export interface PdfPage {
  readonly width: number
  readonly height: number
  readonly pieces: readonly string[]
  /** Painted from pixels, not from strokes. */
  readonly images: number
}

/** In points from the foot of its page. */
export interface Heading {
  readonly title: string
  readonly y: number
}

/** Of all levels, in the order of the outline's objects. */
export function headingsOf(bytes: Buffer): Heading[] {
  const entry = /\/Title (?:\(((?:[^()\\]|\\.)*)\)|<(\w+)>)\s*\/Dest \[\d+ 0 R \/XYZ [\d.]+ ([\d.]+)/g
  return [...bytes.toString('latin1').matchAll(entry)].map(([, plain, hex = '', y]) => ({
    title: plain?.replaceAll(/\\(.)/g, '$1') ?? Buffer.from(hex, 'hex').swap16().toString('utf16le').slice(1),
    y: Number(y),
  }))
}

export function readPdf(bytes: Buffer): PdfPage[] {
  const source = bytes.toString('latin1')
  const objects = new Map<string, string>()
  for (const [, number = '', body = ''] of source.matchAll(/(?:^|\n)(\d+) 0 obj\n([\s\S]*?)\nendobj/g)) {
    objects.set(number, body)
  }
  const pages = [...objects.values()].filter((body) => /\/Type \/Page\b(?!s)/.test(body))
  return pages.map((page) => {
    const [, width = '', height = ''] = /MediaBox \[0 0 ([\d.]+) ([\d.]+)\]/.exec(page) ?? []
    const fonts = new Map<string, ReadonlyMap<string, string>>()
    for (const [, name = '', number = ''] of page.matchAll(/\/(F\d+) (\d+) 0 R/g)) {
      const [, unicode = ''] = /\/ToUnicode (\d+)/.exec(objects.get(number) ?? '') ?? []
      fonts.set(name, lettersOf(streamOf(objects.get(unicode) ?? '')))
    }
    const content = streamOf(objects.get(/\/Contents (\d+)/.exec(page)?.[1] ?? '') ?? '')
    const images = [...page.matchAll(/\/X\d+ (\d+) 0 R/g)].filter(([, number = '']) =>
      (objects.get(number) ?? '').includes('/Subtype /Image'),
    ).length
    return { width: Number(width), height: Number(height), pieces: piecesOf(content, fonts), images }
  })
}

function streamOf(body: string): string {
  const start = body.indexOf('stream\n')
  return start < 0 ? '' : inflateSync(Buffer.from(body.slice(start + 7), 'latin1')).toString('latin1')
}

/** Glyphs to letters. */
function lettersOf(map: string): ReadonlyMap<string, string> {
  const letters = new Map<string, string>()
  const code = (hex: string) => parseInt(hex, 16)
  const key = (number: number) => number.toString(16).toUpperCase().padStart(4, '0')
  for (const [, block = ''] of map.matchAll(/beginbfchar\n([\s\S]*?)endbfchar/g)) {
    for (const [, glyph = '', to = ''] of block.matchAll(/<(\w+)> <(\w+)>/g)) {
      letters.set(glyph, String.fromCharCode(...(to.match(/.{4}/g) ?? []).map(code)))
    }
  }
  for (const [, block = ''] of map.matchAll(/beginbfrange\n([\s\S]*?)endbfrange/g)) {
    for (const [, from = '', to = '', first = ''] of block.matchAll(/<(\w+)> <(\w+)> <(\w+)>/g)) {
      for (let k = 0; k <= code(to) - code(from); k++)
        letters.set(key(code(from) + k), String.fromCharCode(code(first) + k))
    }
  }
  return letters
}

function piecesOf(content: string, fonts: ReadonlyMap<string, ReadonlyMap<string, string>>): string[] {
  const pieces: string[] = []
  let marked = false
  let font: ReadonlyMap<string, string> = new Map()
  for (const token of content.matchAll(/(MCID \d+ >>BDC)|(EMC)|\/(F\d+) [\d.]+ Tf|<([0-9A-F]+)> Tj/g)) {
    const [, begins, ends, name, glyphs] = token
    if (begins !== undefined) {
      marked = true
      pieces.push('')
    } else if (ends !== undefined) marked = false
    else if (name !== undefined) font = fonts.get(name) ?? new Map()
    else if (glyphs !== undefined && marked) {
      const text = (glyphs.match(/.{4}/g) ?? []).map((glyph) => font.get(glyph) ?? '').join('')
      pieces.push(`${pieces.pop() ?? ''}${text}`)
    }
  }
  return pieces.filter((text) => text.trim() !== '')
}

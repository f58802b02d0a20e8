/**
 * JSON text to a document. The values come from the language's own parser; a walk over the text beforehand finds what that
 * parser keeps to itself: where a slip is (line and column), and a key that stands twice, of which it would drop one.
 */
import { problemAt, show, type Place, type Problem } from '../units'
import { MOST_DEPTH } from './limits'

export type Parsing =
  { readonly ok: true; readonly document: unknown } | { readonly ok: false; readonly problem: Problem }

export function parseJson(text: string): Parsing {
  const plain = text.startsWith('\ufeff') ? text.slice(1) : text
  if (plain.trim() === '') return refuse([], 'an empty file', 'a scenario file in JSON')
  try {
    new Walk(plain).file()
    return { ok: true, document: JSON.parse(plain) as unknown }
  } catch (error) {
    if (error instanceof Slip) return refuse(error.place, error.found, error.expected, error.hint)
    return refuse([], 'text that is not JSON', 'a scenario file in JSON')
  }
}

function refuse(place: Place, found: string, expected: string, hint?: string): Parsing {
  return { ok: false, problem: problemAt(place, undefined, found, expected, hint) }
}

class Slip extends Error {
  constructor(
    readonly place: Place,
    readonly found: string,
    readonly expected: string,
    readonly hint?: string,
  ) {
    super(found)
  }
}

const space = /[ \t\r\n]*/y
const string = /"(?:[^"\\\u0000-\u001f]|\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4}))*"/y
const number = /-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?(?![\w.])/y
const literal = /(?:true|false|null)(?!\w)/y
const word = /[\p{L}\p{N}_+.-]+|[^]/uy

class Walk {
  private at = 0
  private readonly place: (string | number)[] = []

  constructor(private readonly text: string) {}

  file(): void {
    this.value()
    this.take(space)
    if (this.at < this.text.length) this.slip('the end of the file')
  }

  private value(): void {
    this.take(space)
    const first = this.text[this.at]
    if (first === '{') this.object()
    else if (first === '[') this.list()
    else if (!this.take(string) && !this.take(number) && !this.take(literal)) this.slip('a value')
  }

  private object(): void {
    const keys = new Set<string>()
    this.items('}', () => {
      const start = this.at
      if (!this.take(string)) this.slip('a key in double quotes')
      const key = JSON.parse(this.text.slice(start, this.at)) as string
      if (keys.has(key)) {
        const place = [...this.place, key]
        throw new Slip(
          place,
          `the key ${show(key)} twice`,
          'every key once',
          'the second would silently replace the first',
        )
      }
      keys.add(key)
      this.take(space)
      if (this.text[this.at] !== ':') this.slip('a colon after the key')
      this.at += 1
      this.inside(key)
    })
  }

  private list(): void {
    let index = 0
    this.items(']', () => this.inside(index++))
  }

  private inside(key: string | number): void {
    if (this.place.length >= MOST_DEPTH) throw tooDeep(this.place)
    this.place.push(key)
    this.value()
    this.place.pop()
  }

  /** From an opening bracket over all items to the closing one. */
  private items(close: string, item: () => void): void {
    this.at += 1
    this.take(space)
    if (this.text[this.at] === close) {
      this.at += 1
      return
    }
    for (;;) {
      this.take(space)
      item()
      this.take(space)
      const next = this.text[this.at]
      if (next !== ',' && next !== close) this.slip(`a comma or "${close}"`)
      this.at += 1
      if (next === close) return
    }
  }

  private take(pattern: RegExp): boolean {
    pattern.lastIndex = this.at
    if (!pattern.test(this.text)) return false
    this.at = pattern.lastIndex
    return true
  }

  private slip(expected: string): never {
    const before = this.text.slice(0, this.at).split('\n')
    const where = `in line ${before.length}, column ${(before.at(-1) ?? '').length + 1}`
    word.lastIndex = this.at
    const found = word.exec(this.text)?.[0]
    const what = found === undefined ? 'the end of the file' : show(found)
    throw new Slip([], `${what} ${where}`, expected, adviceFor(found, this.text.slice(0, this.at)))
  }
}

function tooDeep(place: Place): Slip {
  return new Slip(place.slice(0, 3), `more than ${MOST_DEPTH} levels inside each other`, `at most ${MOST_DEPTH} levels`)
}

/** What people most often do that JSON does not allow. */
function adviceFor(found: string | undefined, before: string): string | undefined {
  if (found === undefined) return 'the file seems to be cut off'
  if (found === '/' || found === '#') return 'JSON has no comments; use "about"'
  if (found === "'") return 'use double quotes'
  if ((found === '}' || found === ']') && before.trimEnd().endsWith(',')) return 'take away the comma before it'
  if (/^[+-]?(nan|inf)/i.test(found)) return 'it has to be an ordinary, finite number'
  const afterNumber = /^[\p{L}µ%°]/u.test(found) && /\d[ \t]*$/.test(before)
  if (afterNumber || /^\d/.test(found)) {
    return 'a quantity is written in double quotes with its unit, such as "80 mm"'
  }
  return undefined
}

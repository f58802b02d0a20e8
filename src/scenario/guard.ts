/** What is looked at before anything else is done with a document from outside: its size, its depth, and what it is made of. */
import { isPlainObject, own, problemAt, reservedWords, show, type Place, type Problem } from '../units'
import { MOST_DEPTH, MOST_EVENTS, MOST_PARTS, MOST_TEXT, MOST_VALUES } from './limits'

/** Problems of a document that must not be read further; empty for one that may. */
export function guard(document: unknown): Problem[] {
  const sentry = new Sentry(document)
  sentry.visit(document, [])
  return sentry.problems.length > 0 ? sentry.problems : tooMany(document)
}

export function tooLong(text: string): Problem | undefined {
  if (text.length <= MOST_TEXT) return undefined
  const [found, most] = [text.length, MOST_TEXT].map((size) => `${(size / 1e6).toFixed(1)} MB of text`)
  return problemAt([], undefined, found ?? '', `at most ${most}`)
}

function tooMany(document: unknown): Problem[] {
  const counted = [
    ['line', MOST_PARTS, 'parts'],
    ['stage', MOST_EVENTS, 'events'],
  ] as const
  return counted.flatMap(([key, most, things]) => {
    const list = own(document, key)
    if (!Array.isArray(list) || list.length <= most) return []
    return [problemAt([key], document, `${list.length} ${things}`, `at most ${most} ${things}`)]
  })
}

/** Stops at the first thing of each sort, and never goes further than the limits. */
class Sentry {
  readonly problems: Problem[] = []
  private values = 0
  private text = 0

  constructor(private readonly document: unknown) {}

  visit(value: unknown, place: Place): void {
    this.values += 1
    if (this.values === MOST_VALUES + 1)
      this.refuse([], `more than ${MOST_VALUES} values`, `at most ${MOST_VALUES} values`)
    if (typeof value === 'string') this.count(value)
    if (Array.isArray(value)) this.list(value, place)
    else if (isPlainObject(value)) this.object(value, place)
    else this.single(value, place)
  }

  private get full(): boolean {
    return this.values > MOST_VALUES || this.problems.length >= 20
  }

  private list(items: readonly unknown[], place: Place): void {
    if (!this.deeper(place)) return
    for (let index = 0; index < items.length && !this.full; index++) this.visit(items[index], [...place, index])
  }

  private object(holder: Readonly<Record<string, unknown>>, place: Place): void {
    const prototype: unknown = Object.getPrototypeOf(holder)
    if (prototype !== null && prototype !== Object.prototype) {
      this.refuse(place, 'something that JSON cannot hold', 'text, a number, a list or an object')
      return
    }
    if (!this.deeper(place)) return
    for (const key of Object.keys(holder)) {
      if (this.full) return
      this.count(key)
      if (reservedWords.has(key))
        this.refuse([...place, key], `the key ${show(key)}`, 'a known key', 'it is a reserved word')
      else this.visit(own(holder, key), [...place, key])
    }
  }

  private single(value: unknown, place: Place): void {
    const type = typeof value
    if (type === 'number' && !Number.isFinite(value))
      this.refuse(place, String(value), 'a finite number of ordinary size')
    if (type === 'function' || type === 'symbol' || type === 'bigint') {
      this.refuse(place, `a ${type}`, 'text, a number, a list or an object')
    }
  }

  private deeper(place: Place): boolean {
    if (place.length < MOST_DEPTH) return true
    this.refuse(place.slice(0, 3), `more than ${MOST_DEPTH} levels inside each other`, `at most ${MOST_DEPTH} levels`)
    return false
  }

  private count(text: string): void {
    const before = this.text
    this.text += text.length
    if (before > MOST_TEXT || this.text <= MOST_TEXT) return
    this.refuse([], `more than ${MOST_TEXT / 1e6} MB of text`, `at most ${MOST_TEXT / 1e6} MB of text`)
  }

  private refuse(place: Place, found: string, expected: string, hint?: string): void {
    this.problems.push(problemAt(place, this.document, found, expected, hint))
  }
}

/**
 * Unit expressions: "kg m^2", "W/(m²·K)", "%/(mm s)" read into a key that is the same for every spelling, and a
 * conversion to SI.
 *
 * A plain table of exact ratios is used instead of a units library. The units are a closed list, each field takes only
 * the few that fit it (so "lbf/in" is a stiffness in one field and a force per width in another), and every refusal
 * has to say what would be right; a library would still need the pattern for the number, the cleaning of the text, the
 * list per field and the temperature scales, and would leave only the arithmetic below. The ratios are kept as whole
 * numbers where the definition is one, so that "36 µm" becomes the same bits as 3.6e-5.
 *
 * Source of the ratios: the international definitions of 1959 (inch 25.4 mm, pound 0.45359237 kg), standard gravity
 * 9.80665 m/s^2, mechanical horsepower 550 ft lbf/s. Film gauge: 100 gauge = 1 mil.
 */

/** value in SI = number x by / per */
interface Ratio {
  readonly by: number
  readonly per: number
}

export interface Unit extends Ratio {
  /** the same for every spelling of one unit, for instance `m^1*s^-1`; empty for a plain number */
  readonly key: string
}

const inch: Ratio = { by: 127, per: 5000 }
const foot: Ratio = { by: 381, per: 1250 }
const poundForce: Ratio = { by: 8896443230521, per: 2e12 }
const one: Ratio = { by: 1, per: 1 }
const times = (by: number): Ratio => ({ by, per: 1 })
const part = (per: number): Ratio => ({ by: 1, per })

const atoms: ReadonlyMap<string, Ratio> = new Map([
  ['µm', part(1e6)],
  ['mil', { by: 127, per: 5e6 }],
  ['gauge', { by: 127, per: 5e8 }],
  ['mm', part(1000)],
  ['cm', part(100)],
  ['m', one],
  ['in', inch],
  ['ft', foot],
  ['N', one],
  ['mN', part(1000)],
  ['kN', times(1000)],
  ['lbf', poundForce],
  ['kgf', { by: 980665, per: 1e5 }],
  ['kg', one],
  ['g', part(1000)],
  ['lb', { by: 45359237, per: 1e8 }],
  ['s', one],
  ['ms', part(1000)],
  ['min', times(60)],
  ['l', part(1000)],
  ['rad', one],
  ['deg', { by: Math.PI, per: 180 }],
  ['rpm', { by: Math.PI, per: 30 }],
  ['Hz', times(2 * Math.PI)],
  ['Pa', one],
  ['kPa', times(1e3)],
  ['MPa', times(1e6)],
  ['GPa', times(1e9)],
  ['psi', { by: poundForce.by * inch.per ** 2, per: poundForce.per * inch.by ** 2 }],
  ['ksi', { by: 1000 * poundForce.by * inch.per ** 2, per: poundForce.per * inch.by ** 2 }],
  ['bar', times(1e5)],
  ['mbar', times(100)],
  ['K', one],
  ['°C', one],
  ['°F', { by: 5, per: 9 }],
  ['J', one],
  ['W', one],
  ['kW', times(1000)],
  ['hp', { by: 550 * foot.by * poundForce.by, per: foot.per * poundForce.per }],
  ['%', part(100)],
])

/** Other ways to write an atom or a usual compound. */
export const aliases: ReadonlyMap<string, string> = new Map([
  ['um', 'µm'],
  ['°', 'deg'],
  ['fpm', 'ft/min'],
  ['PLI', 'lbf/in'],
  ['pli', 'lbf/in'],
  ['Nm', 'N m'],
  ['mNm', 'mN m'],
])

const superscripts = '⁰¹²³⁴⁵⁶⁷⁸⁹'

/** Brings the typographic forms of spaces, minus, micro, powers and products down to one spelling each. */
export function cleanText(text: string): string {
  return text
    .replace(/[\s\u00a0\u2007\u2009\u202f]+/g, ' ')
    .replace(/\u2212/g, '-')
    .replace(/\u03bc/g, 'µ')
    .replace(/(⁻?)([⁰¹²³⁴⁵⁶⁷⁸⁹])/g, (_, minus: string, digit: string) => {
      return `^${minus === '' ? '' : '-'}${superscripts.indexOf(digit)}`
    })
    .replace(/[·⋅•∙]/g, '*')
    .trim()
}

type Powers = Map<string, number>

interface Cursor {
  readonly tokens: readonly string[]
  at: number
}

const tokenPattern = /\s+|[*/()]|\^-?[1-9]|°[CF]?|%|[A-Za-zµ]+|1|./gu

/** Reads a unit expression whose text has been cleaned; undefined when it is none. */
export function readUnit(text: string): Unit | undefined {
  if (text.length > 40) return undefined
  const tokens = (text.match(tokenPattern) ?? []).filter((token) => token.trim() !== '')
  const cursor: Cursor = { tokens, at: 0 }
  const powers = readProduct(cursor)
  return powers && cursor.at === tokens.length ? unitOf(powers) : undefined
}

function readProduct(cursor: Cursor): Powers | undefined {
  const product = readFactor(cursor)
  if (!product) return undefined
  for (;;) {
    const token = cursor.tokens[cursor.at]
    if (token === undefined || token === ')') return product
    const operator = token === '/' || token === '*'
    if (operator) cursor.at += 1
    const factor = readFactor(cursor)
    if (!factor) return undefined
    addPowers(product, factor, token === '/' ? -1 : 1)
  }
}

function readFactor(cursor: Cursor): Powers | undefined {
  const token = cursor.tokens[cursor.at]
  if (token === undefined) return undefined
  cursor.at += 1
  if (token === '(') {
    const inner = readProduct(cursor)
    if (cursor.tokens[cursor.at] !== ')') return undefined
    cursor.at += 1
    return inner
  }
  if (token === '1') return new Map()
  return readPower(token, cursor)
}

function readPower(word: string, cursor: Cursor): Powers | undefined {
  const alias = aliases.get(word)
  const base: Powers | undefined = alias
    ? readProduct({ tokens: alias.match(/[^\s/]+|\//g) ?? [], at: 0 })
    : atoms.has(word)
      ? new Map([[word, 1]])
      : undefined
  const next = cursor.tokens[cursor.at]
  if (!base || !next?.startsWith('^')) return base
  cursor.at += 1
  const raised: Powers = new Map()
  addPowers(raised, base, Number(next.slice(1)))
  return raised
}

function addPowers(into: Powers, from: Powers, sign: number): void {
  for (const [word, power] of from) into.set(word, (into.get(word) ?? 0) + sign * power)
}

function unitOf(powers: Powers): Unit {
  let by = 1
  let per = 1
  const words = [...powers].filter(([, power]) => power !== 0).sort(([a], [b]) => (a < b ? -1 : 1))
  for (const [word, power] of words) {
    const ratio = atoms.get(word) ?? one
    by *= power > 0 ? ratio.by ** power : ratio.per ** -power
    per *= power > 0 ? ratio.per ** power : ratio.by ** -power
  }
  const common = commonDivisor(by, per)
  return { key: words.map(([word, power]) => `${word}^${power}`).join('*'), by: by / common, per: per / common }
}

/** Reduces whole ratios, so that a conversion rounds once. */
function commonDivisor(a: number, b: number): number {
  if (!Number.isSafeInteger(a) || !Number.isSafeInteger(b)) return 1
  return b === 0 ? a : commonDivisor(b, a % b)
}

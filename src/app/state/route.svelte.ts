/** Which page is open, by the address behind the `#`: the page's key, then whatever the page itself makes of the rest. */

/** The first word of an address that is no page but a link with a line in it. */
export const linkWord = 'open'

export const isLink = (hash: string): boolean => hash.startsWith(`#${linkWord}/`)

export class Route {
  page = $state.raw('')
  /** What stands behind the page's key, part by part. */
  rest = $state.raw<readonly string[]>([])

  readonly #known: readonly string[]

  /** @param known keys of the pages; the first is shown where the address names none */
  constructor(known: readonly string[], hash: string) {
    this.#known = known
    this.read(hash)
  }

  /** Takes in an address, such as `#line`. One that names no page opens the first. */
  read(hash: string): void {
    const [page = '', ...rest] = hash.replace(/^#/, '').split('/').map(plain)
    const known = this.#known.includes(page)
    this.page = known ? page : (this.#known[0] ?? '')
    this.rest = known ? rest : []
  }

  /** To a page that is known; else to the first. */
  go(page: string, ...rest: readonly string[]): void {
    const known = this.#known.includes(page) ? page : (this.#known[0] ?? '')
    const isThere = known === this.page && rest.length === 0 && this.rest.length === 0
    if (!isThere) location.hash = [known, ...rest].map(encodeURIComponent).join('/')
  }
}

/** An address typed by hand may be badly escaped: it then stands for itself. */
function plain(part: string): string {
  try {
    return decodeURIComponent(part)
  } catch {
    return part
  }
}

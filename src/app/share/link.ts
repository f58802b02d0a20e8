/**
 * A line in a link: its document as JSON, deflated, in letters that an address may hold. It stands behind the `#`, which a
 * browser keeps to itself: no server ever sees it.
 *
 * A link is a stranger's. What it inflates to is counted while it inflates, and given up beyond what a file may hold.
 */
import { guard } from '../../scenario/guard'
import { parseJson } from '../../scenario/json'
import { MOST_TEXT } from '../../scenario/limits'
import { at, type Json } from '../state/document'

/** characters; a whole file of 2 MB that hardly compresses, as base64 */
const MOST_CODE = 3_000_000

export type Opened = { readonly ok: true; readonly document: Json } | { readonly ok: false; readonly say: string }

const refused = (say: string): Opened => ({ ok: false, say })

/** The document as the last word of an address. */
export async function packed(document: Json): Promise<string> {
  const text = new TextEncoder().encode(JSON.stringify(document))
  const stream = new Blob([text]).stream().pipeThrough(new CompressionStream('deflate-raw'))
  return toLetters(new Uint8Array(await new Response(stream).arrayBuffer()))
}

/** A document out of an address, or why there is none. */
export async function unpacked(code: string): Promise<Opened> {
  if (code === '') return refused('The link is cut short: nothing stands behind "open/". Ask for it again.')
  if (code.length > MOST_CODE) return refused('The link is longer than any line needs, and was not opened.')
  const bytes = fromLetters(code)
  if (!bytes) return refused('The link has letters in it that none of ours has. Was it broken by a mail program?')
  const text = await inflated(bytes)
  if (typeof text !== 'string') return refused(troubles[text.trouble])
  return read(text)
}

function read(text: string): Opened {
  const parsing = parseJson(text)
  if (!parsing.ok) return refused(`What the link holds is no line: ${parsing.problem.say}`)
  const [problem] = guard(parsing.document)
  if (problem) return refused(`What the link holds is not opened: ${problem.say}`)
  const document = parsing.document as Json
  if (at(document, ['line']) === undefined) return refused('What the link holds is no line: it has no list of parts.')
  return { ok: true, document }
}

const troubles = {
  long: `The link inflates to more than ${MOST_TEXT / 1e6} MB, far more than a line needs. It was not opened.`,
  broken: 'The link is broken: it does not inflate. It may have been cut short on its way; ask for it again.',
} as const

interface Trouble {
  readonly trouble: keyof typeof troubles
}

/** Stops as soon as there is too much: what a small link could inflate to is never held. */
async function inflated(bytes: Uint8Array<ArrayBuffer>): Promise<string | Trouble> {
  const reader = new Blob([bytes]).stream().pipeThrough(new DecompressionStream('deflate-raw')).getReader()
  const decoder = new TextDecoder('utf-8', { fatal: true })
  let length = 0
  let text = ''
  try {
    for (;;) {
      const { done, value } = await reader.read()
      if (done) return text + decoder.decode()
      length += value.length
      if (length > MOST_TEXT) {
        await reader.cancel()
        return { trouble: 'long' }
      }
      text += decoder.decode(value, { stream: true })
    }
  } catch {
    return { trouble: 'broken' }
  }
}

/** base64 with the two letters that an address would escape replaced, and without filling. */
function toLetters(bytes: Uint8Array): string {
  let text = ''
  for (const byte of bytes) text += String.fromCharCode(byte)
  return btoa(text).replaceAll('+', '-').replaceAll('/', '_').replaceAll('=', '')
}

function fromLetters(code: string): Uint8Array<ArrayBuffer> | undefined {
  if (!/^[\w-]+$/.test(code)) return undefined
  try {
    return Uint8Array.from(atob(code.replaceAll('-', '+').replaceAll('_', '/')), (letter) => letter.charCodeAt(0))
  } catch {
    return undefined
  }
}

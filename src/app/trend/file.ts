/** Reads a file that a person chose, a little at a time, so that the page hears keys and pointer meanwhile. */
import type { Said } from './format'
import { TableReader, type Tabled } from './table'

/** bytes; far more than a recording of the lengths that are read */
const MOST_BYTES = 500_000_000
/** characters taken in without looking at the clock */
const piece = 65_536
/** ms of work between two pauses */
const slice = 12

export interface Reading {
  /** Share of the file that has been read; false: stop. */
  progress(share: number, rows: number): boolean
}

export async function readFile(file: Blob, reading: Reading, said: Said = {}): Promise<Tabled | undefined> {
  if (file.size === 0) return { ok: false, say: 'The file is empty.' }
  if (file.size > MOST_BYTES) {
    return {
      ok: false,
      say: `The file has ${Math.round(file.size / 1e6)} MB, at most ${MOST_BYTES / 1e6} MB are read.`,
    }
  }
  const table = new TableReader(said)
  const pace = new Pace()
  const decoder = new TextDecoder(await encodingOf(file))
  const reader = file.stream().getReader()
  let done = 0
  for (;;) {
    const { value, done: over } = await reader.read()
    if (over) break
    done += value.length
    const text = decoder.decode(value, { stream: true })
    for (let from = 0; from < text.length; from += piece) {
      if (!table.feed(text.slice(from, from + piece))) {
        await reader.cancel()
        return table.end()
      }
      if (!pace.due()) continue
      if (!reading.progress(done / file.size, table.rows)) {
        await reader.cancel()
        return undefined
      }
      await pace.pause()
    }
  }
  table.feed(decoder.decode())
  return table.end()
}

/** Machines write UTF-8, UTF-16 with its mark, or the letters of an older system. */
async function encodingOf(file: Blob): Promise<string> {
  const start = new Uint8Array(await file.slice(0, 65_536).arrayBuffer())
  if (start[0] === 0xff && start[1] === 0xfe) return 'utf-16le'
  if (start[0] === 0xfe && start[1] === 0xff) return 'utf-16be'
  try {
    new TextDecoder('utf-8', { fatal: true }).decode(start, { stream: true })
    return 'utf-8'
  } catch {
    return 'windows-1252'
  }
}

class Pace {
  #since = performance.now()

  due(): boolean {
    return performance.now() - this.#since > slice
  }

  async pause(): Promise<void> {
    await new Promise((resolve) => setTimeout(resolve))
    this.#since = performance.now()
  }
}

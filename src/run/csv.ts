/** Samples as comma-separated text: one line a sample, SI units, named in the head. */
import type { Block, Channel } from './record'
import { kinds } from '../units'

export function csvHead(channels: readonly Channel[]): string {
  const cells = channels.map(({ key, kind }) => `${key.replaceAll(' → ', ' to ')} (${kinds[kind].si})`)
  return ['time (s)', ...cells].map(headCell).join(',') + '\n'
}

/** A spreadsheet takes a text that begins with one of these for a formula. */
export function headCell(text: string): string {
  const harmless = /^[=+\-@\t\r]/.test(text) ? `'${text}` : text
  return /[",\n\r]/.test(harmless) ? `"${harmless.replaceAll('"', '""')}"` : harmless
}

export function csvLines({ count, data }: Block): string {
  const columns = data.length / count
  let text = ''
  for (let i = 0; i < count; i++) {
    for (let c = 0; c < columns; c++) {
      text += (c === 0 ? '' : ',') + numberText(data[c * count + i])
    }
    text += '\n'
  }
  return text
}

/** Ten digits: far finer than any tolerance of a run, and free of the last bits that only look precise. */
function numberText(value: number): string {
  return String(Number(value.toPrecision(10)))
}

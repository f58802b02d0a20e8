/** Going on with what a tab has left that closed: the line, the recording over it, its pinned runs. */
import type { Pins } from '../compare/pins.svelte'
import { freeName } from '../keep/own.svelte'
import { isUntouched, type WorkRecord } from '../keep/records'
import type { Work } from './work.svelte'

/**
 * Where nothing would be missed of what is in hand its history comes too; else it is one step from there, so that undo leads
 * back to what was in hand.
 * @returns names of pinned runs for which there was no room
 */
export function takeLeft({ held, history, pins, entries }: WorkRecord, work: Work, here: Pins): readonly string[] {
  const present = { held: work.held, history: work.history, pins: here.list, entries: [...work.entries] }
  if (isUntouched(present)) work.resume(held, history, new Map(entries))
  else work.take(held, `opening “${held.chosen?.title ?? 'a line'}”`)
  const missing = pins.filter((pin) => {
    const others = here.list.filter(({ id }) => id !== pin.id).map(({ name }) => name)
    return !here.join({ ...pin, name: freeName(pin.name, others) })
  })
  return missing.map(({ name }) => name)
}

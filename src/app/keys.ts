/** Undo and redo from the keyboard, where the keys do not belong to something else. */

interface Turns {
  readonly undo: () => void
  readonly redo: () => void
}

/** What was asked for: Ctrl (or Command) with Z, with Y, or with Shift and Z. */
export function turnOf(event: Pick<KeyboardEvent, 'key' | 'ctrlKey' | 'metaKey' | 'shiftKey' | 'altKey'>) {
  if (!(event.ctrlKey || event.metaKey) || event.altKey) return undefined
  const key = event.key.toLowerCase()
  if (key === 'z') return event.shiftKey ? 'redo' : 'undo'
  return key === 'y' && !event.shiftKey ? 'redo' : undefined
}

/** A text of its own takes its own steps back: a name, or a number that is not yet applied. */
function isOwnText(target: EventTarget | null): boolean {
  if (!(target instanceof HTMLElement)) return false
  const isText = target.isContentEditable || target.matches('textarea, input:not([type]), input[type="text"]')
  return isText && (target.dataset.unapplied !== undefined || !target.closest('[data-field]'))
}

export function turnByKey(event: KeyboardEvent, turns: Turns): void {
  const turn = turnOf(event)
  if (!turn || isOwnText(event.target) || document.querySelector('dialog[open]')) return
  event.preventDefault()
  turns[turn]()
}

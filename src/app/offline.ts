/** Lets the page be opened again without a network. Where that cannot be it works with one. */

let asked = false

/** Once a run has ended: it fetches the files of every page, which would take time from the first run. */
export function workOffline(): void {
  // A file on disk has no server to do without, and while developing every change should be seen.
  const isServed = location.protocol === 'https:' || location.protocol === 'http:'
  if (asked || !import.meta.env.PROD || !isServed || !('serviceWorker' in navigator)) return
  asked = true
  navigator.serviceWorker.register('./sw.js').catch(() => undefined)
}

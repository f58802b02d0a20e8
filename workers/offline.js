/**
 * The service worker: with it the page works without a network after its first load. Own and short, since the usual plugin
 * for it brings 300 packages for these few rules:
 *
 * - All files of a version are fetched into a cache of that version before it serves anything, so that pages opened later
 *   find their scripts too.
 * - Scripts and styles carry a hash in their names: what the cache has is right. The page itself is asked of the network
 *   first, so that a new version is seen at once, and comes from the cache where there is none.
 * - A version's cache goes when the next version takes over, which is when no page of the old one is open any more.
 *   Names tell of the folder, since other pages may live at the same host.
 */
// @ts-check
/// <reference lib="webworker" />

/** The build writes both in. @type {{ version: string, files: string[] }} */
const built = { version: '', files: [] }

const scope = /** @type {ServiceWorkerGlobalScope} */ (/** @type {unknown} */ (globalThis))
const folder = new URL('./', scope.location.href).href
const family = `spanwright ${folder} `
const cacheName = family + built.version

scope.addEventListener('install', (event) => {
  const fetched = built.files.map((file) => new Request(new URL(file, folder), { cache: 'no-cache' }))
  event.waitUntil(caches.open(cacheName).then((cache) => cache.addAll(fetched)))
})

scope.addEventListener('activate', (event) => {
  const old = (/** @type {string} */ name) => name.startsWith(family) && name !== cacheName
  event.waitUntil(caches.keys().then((names) => Promise.all(names.filter(old).map((name) => caches.delete(name)))))
})

scope.addEventListener('fetch', (event) => {
  const { request } = event
  if (request.method !== 'GET' || !request.url.startsWith(folder)) return
  event.respondWith(request.mode === 'navigate' ? page(request) : file(request))
})

/** @param {Request} request */
async function page(request) {
  try {
    return await fetch(request)
  } catch (error) {
    const kept = await fromCache(new Request(new URL('index.html', folder)))
    if (kept) return kept
    throw error
  }
}

/** @param {Request} request */
async function file(request) {
  return (await fromCache(request)) ?? fetch(request)
}

/** @param {Request} request */
async function fromCache(request) {
  const cache = await caches.open(cacheName)
  return cache.match(request, { ignoreSearch: true })
}

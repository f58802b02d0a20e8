/**
 * The whole page as one HTML file that opens from disk: scripts, styles and workers inside it. A file on disk may load
 * nothing else, and its content security policy says so, naming what is inside by its hash.
 */
import { createHash } from 'node:crypto'
import { readFileSync } from 'node:fs'
import { pageRules, policyOf } from './policy.mjs'

/** How the source makes a worker; here its program comes along and is run from memory. */
const worker = /new Worker\(new URL\('(.+?)', import\.meta\.url\), \{ type: 'module' \}\)/g

/** @param {string} content @returns {string} as a policy names it */
const hashOf = (content) => `'sha256-${createHash('sha256').update(content).digest('base64')}'`

/**
 * @param {string} icon file of the picture
 * @param {string} name of the one file
 * @returns {import('vite').Plugin}
 */
export function singleFile(icon, name) {
  return {
    name: 'spanwright-single',
    apply: 'build',
    enforce: 'pre',
    transform(code, id) {
      if (!id.includes('/workers/') || !id.endsWith('.ts')) return undefined
      /** @type {string[]} */
      const imports = []
      const changed = code.replace(worker, (_, file) => {
        imports.push(`import InlineWorker${imports.length} from '${file}?worker&inline'`)
        return `new InlineWorker${imports.length - 1}()`
      })
      return imports.length === 0 ? undefined : { code: `${imports.join('\n')}\n${changed}`, map: null }
    },
    generateBundle: {
      order: 'post',
      handler(_, bundle) {
        const html = bundle['index.html']
        if (html?.type !== 'asset') throw new Error('The build made no index.html.')
        const files = Object.values(bundle).filter((file) => file !== html)
        this.emitFile({ type: 'asset', fileName: name, source: together(String(html.source), files, icon) })
        for (const { fileName } of [...files, html]) Reflect.deleteProperty(bundle, fileName)
      },
    },
  }
}

/**
 * @param {string} html
 * @param {readonly (import('vite').Rollup.OutputAsset | import('vite').Rollup.OutputChunk)[]} files
 * @param {string} icon
 */
function together(html, files, icon) {
  const scripts = files.filter((file) => file.type === 'chunk')
  if (scripts.length !== 1) throw new Error(`One script was expected, there are ${scripts.length}.`)
  // Inside a script element these would end it or open a comment; in a string the stroke changes nothing.
  const script = scripts
    .map(({ code }) => code.replaceAll('</script', '<\\/script').replaceAll('<!--', '<\\!--'))
    .join('')
  const style = files
    .flatMap((file) => (file.fileName.endsWith('.css') && file.type === 'asset' ? [file.source] : []))
    .join('\n')
  const rules = {
    ...pageRules,
    'script-src': hashOf(script),
    'style-src': hashOf(style),
    'worker-src': 'blob:',
    'connect-src': "'none'",
  }
  const picture = `data:image/svg+xml;base64,${readFileSync(icon).toString('base64')}`
  return html
    .replace(/<script type="module"[^>]*><\/script>/, '')
    .replace(/<link rel="stylesheet"[^>]*>/, () => `<style>${style}</style>`)
    .replace(/(<link rel="icon"[^>]*href=")[^"]*"/, (_, start) => `${start}${picture}"`)
    .replace(/(http-equiv="Content-Security-Policy" content=")[^"]*"/, (_, start) => `${start}${policyOf(rules)}"`)
    .replace('</body>', () => `<script type="module">${script}</script>\n  </body>`)
}

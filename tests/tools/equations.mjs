/**
 * `node tests/tools/equations.mjs`: writes the equations of the Wrinkle page and the lessons as trees of MathML, so that the page itself needs
 * no typesetter. Words between @ are places that the page fills with the present figures.
 */
import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import temml from 'temml'
import { root } from './process.mjs'

export const equationsFile = 'src/app/equations/equations.json'

/** @typedef {[tag: string, attributes: Record<string, string>, ...children: (MathTree | string)[]]} MathTree */

/** A place for a present figure. @param {string} name */
const at = (name) => `\\text{@${name}@}`

/** @type {Readonly<Record<string, string>>} */
const sources = {
  troughs: `\\sigma_\\mathrm{tr} = \\frac{2 D \\left(p + q^2\\right)}{h} = \\frac{2 \\times ${at('D')} \\times \\left(${at('p')} + ${at('q2')}\\right)}{${at('h')}} = ${at('limit')}`,
  waves: `q^2 = \\sqrt{p^2 + \\frac{\\sigma_x h\\, p}{D}},\\quad p = \\left(\\frac{\\pi}{L}\\right)^2,\\quad D = \\frac{E h^3}{12 \\left(1 - \\nu^2\\right)} = ${at('D')}`,
  wavelength: `\\lambda = \\frac{2 \\pi}{q} = \\frac{2 \\pi}{\\sqrt{${at('q2')}}} = ${at('wavelength')}`,
  approximation: `\\sigma_\\mathrm{tr} \\approx \\frac{\\pi h}{L} \\sqrt{\\frac{E \\sigma_x}{3 \\left(1 - \\nu^2\\right)}} = ${at('approximation')}`,
  fold: `\\sigma_\\mathrm{fold} = \\frac{E h}{R \\sqrt{3 \\left(1 - \\nu^2\\right)}} = \\frac{${at('E')} \\times ${at('h')}}{${at('R')} \\times ${at('root')}} = ${at('fold')}`,
  misalignment: `\\varphi = V \\left(\\frac{1 - 1/\\cosh K L}{F} + \\frac{1.2}{G W h}\\right),\\quad K L = ${at('KL')},\\quad \\tau = \\frac{V}{W h} = ${at('shear')}`,
  critical: `\\tau_\\mathrm{tr} = \\sqrt{\\sigma_\\mathrm{tr} \\left(\\sigma_\\mathrm{tr} + \\sigma_x\\right)} = \\sqrt{${at('limit')} \\times \\left(${at('limit')} + ${at('stress')}\\right)} \\;\\Rightarrow\\; \\varphi_\\mathrm{tr} = ${at('critical')}`,
  air: `h_0 = 0.643\\, R \\left(\\frac{6 \\eta \\times 2 v}{T}\\right)^{2/3} = ${at('air')},\\quad R_q = ${at('roughness')}`,
  grip: `\\mu_\\mathrm{needed} = \\frac{2 E h^2}{T W \\sqrt{3 \\left(1 - \\nu^2\\right)}} = ${at('needed')},\\quad \\mu = ${at('friction')}`,
  draw: `\\frac{\\lambda_2}{\\lambda_1} = \\frac{v_2}{v_1}`,
  drawError: `\\frac{\\Delta F}{F} \\approx \\frac{\\Delta v / v}{\\varepsilon}`,
  settling: `T_\\mathrm{c} = \\frac{L}{v},\\quad 1 - e^{-3} = 95\\,\\%`,
  heat: `\\Delta \\varepsilon = \\alpha\\, \\Delta T,\\quad \\frac{0.05\\,\\%}{18 \\times 10^{-6}\\,/\\mathrm{K}} = 28\\,\\mathrm{K}`,
  lever: `F = \\frac{n\\, p\\, A}{2} \\times \\frac{a}{b}`,
  dancer: `2 F = P - k z`,
}

const nodePattern = /<(\/?)([a-z]+)([^>]*?)(\/?)>|([^<]+)/g
const attributePattern = /([a-z:-]+)="([^"]*)"/g
const kept = new Set([
  'display',
  'mathvariant',
  'stretchy',
  'fence',
  'form',
  'width',
  'linethickness',
  'lspace',
  'rspace',
])

/** @param {string} text */
const decoded = (text) =>
  text.replaceAll('&lt;', '<').replaceAll('&gt;', '>').replaceAll('&quot;', '"').replaceAll('&amp;', '&')

/** Markup as a tree, without styles and classes: the page's policy blocks the one and does not know the other.
 * @param {string} markup @returns {MathTree} */
function treeOf(markup) {
  /** @type {MathTree} */
  const top = ['top', {}]
  const open = [top]
  for (const [, closing, tag, attributes, alone, text] of markup.matchAll(nodePattern)) {
    const parent = open[open.length - 1]
    if (text !== undefined) parent.push(decoded(text))
    else if (closing) open.pop()
    else {
      const known = [...attributes.matchAll(attributePattern)].filter(([, name]) => kept.has(name))
      /** @type {MathTree} */
      const node = [tag, Object.fromEntries(known.map(([, name, value]) => [name, value]))]
      parent.push(node)
      if (!alone) open.push(node)
    }
  }
  const [, , first] = top
  if (first === undefined || typeof first === 'string') throw new Error(`No equation in ${markup}`)
  return first
}

/** What the committed file holds. @returns {Record<string, MathTree>} */
export function equationTrees() {
  const trees = Object.entries(sources).map(([key, tex]) => [
    key,
    treeOf(temml.renderToString(tex, { displayMode: true, throwOnError: true, annotate: false })),
  ])
  return Object.fromEntries(trees)
}

if (process.argv[1]?.endsWith('equations.mjs')) {
  const { format, resolveConfig } = await import('prettier')
  const path = join(root, equationsFile)
  const options = { ...(await resolveConfig(path)), filepath: path }
  writeFileSync(path, await format(JSON.stringify(equationTrees()), options))
  console.log(`Written: ${equationsFile}`)
}

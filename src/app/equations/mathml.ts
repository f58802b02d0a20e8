/** An equation's tree as elements of MathML. Made once; afterwards only the figures in it change. */
import { filled, type MathNode } from './tree'

const NAMESPACE = 'http://www.w3.org/1998/Math/MathML'

type Figures = Readonly<Record<string, string>>

export interface Built {
  readonly node: Node
  /** Puts figures in; touches only what reads otherwise than before. */
  readonly fill: (figures: Figures) => void
}

export function build(tree: MathNode | string): Built {
  const places: { readonly text: Text; readonly wanted: string }[] = []
  const make = (node: MathNode | string): Node => {
    if (typeof node === 'string') {
      const text = document.createTextNode(node)
      if (node.includes('@')) places.push({ text, wanted: node })
      return text
    }
    const element = document.createElementNS(NAMESPACE, node.tag)
    for (const [name, value] of Object.entries(node.attributes)) element.setAttribute(name, value)
    element.append(...node.children.map(make))
    return element
  }
  const fill = (figures: Figures) => {
    for (const { text, wanted } of places) {
      const now = filled(wanted, figures)
      if (text.data !== now) text.data = now
    }
  }
  return { node: make(tree), fill }
}

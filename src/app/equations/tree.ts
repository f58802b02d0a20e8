/** Equations as trees of MathML, made beforehand by tests/tools/equations.mjs; figures are put in where they say @name@. */
import trees from './equations.json'

export type EquationKey = keyof typeof trees

export interface MathNode {
  readonly tag: string
  readonly attributes: Readonly<Record<string, string>>
  readonly children: readonly (MathNode | string)[]
}

export const equationKeys = Object.keys(trees) as EquationKey[]

/** The file's lists as nodes; what does not look like one is left out. */
function nodeOf(value: unknown): MathNode | string {
  if (!Array.isArray(value)) return String(value)
  const [tag, attributes, ...children] = value as readonly unknown[]
  return {
    tag: String(tag),
    attributes: { ...(attributes as Readonly<Record<string, string>>) },
    children: children.map(nodeOf),
  }
}

const known = new Map<EquationKey, MathNode | string>()

export function equation(key: EquationKey): MathNode | string {
  let found = known.get(key)
  if (found === undefined) known.set(key, (found = nodeOf(trees[key])))
  return found
}

/** A text with its figures put in; a place without a figure keeps its name. */
export function filled(text: string, figures: Readonly<Record<string, string>>): string {
  return text.replace(/@(\w+)@/g, (_, name: string) => figures[name] ?? name)
}

/** A drawing in the page as a file that stands by itself: what its classes say becomes attributes. */

const properties = [
  'fill',
  'fill-opacity',
  'stroke',
  'stroke-width',
  'stroke-dasharray',
  'stroke-linecap',
  'stroke-linejoin',
  'stroke-opacity',
  'font-size',
  'font-weight',
  'font-family',
  'text-anchor',
  'paint-order',
] as const

/** @param ground colour behind the drawing */
export function svgText(drawing: SVGSVGElement, ground: string): string {
  const copy = drawing.cloneNode(true) as SVGSVGElement
  const originals = [...drawing.querySelectorAll('*')]
  for (const [k, element] of [...copy.querySelectorAll('*')].entries()) {
    const original = originals[k]
    if (original) inline(element, getComputedStyle(original))
  }
  copy.removeAttribute('class')
  copy.setAttribute('xmlns', 'http://www.w3.org/2000/svg')
  const back = document.createElementNS('http://www.w3.org/2000/svg', 'rect')
  for (const [name, value] of [
    ['width', '100%'],
    ['height', '100%'],
    ['fill', ground],
  ] as const)
    back.setAttribute(name, value)
  copy.prepend(back)
  return `<?xml version="1.0" encoding="UTF-8"?>\n${new XMLSerializer().serializeToString(withoutComments(copy))}\n`
}

function inline(element: Element, style: CSSStyleDeclaration): void {
  for (const name of properties) {
    const value = style.getPropertyValue(name)
    if (value !== '') element.setAttribute(name, value)
  }
  element.removeAttribute('class')
}

/** The page's own marks mean nothing elsewhere. */
function withoutComments(drawing: SVGSVGElement): SVGSVGElement {
  const walker = document.createTreeWalker(drawing, NodeFilter.SHOW_COMMENT)
  const found: Node[] = []
  while (walker.nextNode()) found.push(walker.currentNode)
  for (const node of found) node.parentNode?.removeChild(node)
  return drawing
}

/** Pixels of the picture for each unit of the drawing. */
const density = 2

export async function pngOf(svg: string, { width, height }: { width: number; height: number }): Promise<Blob> {
  const address = URL.createObjectURL(new Blob([svg], { type: 'image/svg+xml' }))
  try {
    const image = new Image()
    image.src = address
    await image.decode()
    const canvas = document.createElement('canvas')
    canvas.width = width * density
    canvas.height = height * density
    canvas.getContext('2d')?.drawImage(image, 0, 0, canvas.width, canvas.height)
    return await new Promise((resolve, reject) =>
      canvas.toBlob((blob) => (blob ? resolve(blob) : reject(new Error('no picture'))), 'image/png'),
    )
  } finally {
    URL.revokeObjectURL(address)
  }
}

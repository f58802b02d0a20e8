/** The scenarios that come with the page, as questions: what each is about, and the page that answers it. */
import type { Json } from './document'
import { fromDocument, type Scenario } from './scenario'

export interface Group {
  readonly title: string
  readonly scenarios: readonly Scenario[]
}

const files = import.meta.glob<Json>('/scenarios/*.json', { eager: true, import: 'default' })

/** What the questions are about, and where they are answered unless they name a page of their own (`key@page`). */
const topics: readonly { readonly title: string; readonly page: string; readonly keys: readonly string[] }[] = [
  {
    title: 'Splices and roll changes',
    page: 'line',
    keys: ['zero-speed-splice', 'flying-splice', 'thick-to-thin', 'wrong-diameter-preset'],
  },
  {
    title: 'Stops, starts and changes of speed',
    page: 'line',
    keys: ['start-stop', 'open-brake-on-a-stop', 'residual-tension', 'wrong-inertia-compensation', 'draw-zone'],
  },
  {
    title: 'Feeding in steps',
    page: 'line',
    keys: ['continuous-to-indexing', 'indexing-speeds', 'dancer-out-of-travel'],
  },
  {
    title: 'Dancers and their loops',
    page: 'dancer',
    keys: ['sticky-dancer-hunting', 'loop-too-slow', 'air-cylinder-dancer@line', 'out-of-round-roll@line'],
  },
  {
    title: 'The finished roll',
    page: 'roll',
    keys: [
      'roll-too-little-taper',
      'taper-wind-up',
      'roll-soft-film',
      'roll-foil',
      'roll-stop-in-the-middle',
      'roll-tag-stock-small-core',
    ],
  },
  { title: 'Wrinkles', page: 'wrinkle', keys: ['which-span-wrinkles'] },
]

/** The parts that questions are about, where that is not the first dancer. */
const parts: Readonly<Record<string, string>> = {
  'wrong-diameter-preset': 'unwind',
  'open-brake-on-a-stop': 'unwind',
  'out-of-round-roll': 'unwind',
  'wrong-inertia-compensation': 'rewind',
  'taper-wind-up': 'rewind',
  'draw-zone': 'second nip',
}

/** For a newcomer: one question of each sort. */
const short: readonly string[] = [
  'zero-speed-splice',
  'roll-too-little-taper',
  'sticky-dancer-hunting',
  'which-span-wrinkles',
  'continuous-to-indexing',
  'start-stop',
]

const loaded: ReadonlyMap<string, Scenario> = new Map(
  Object.entries(files).map(([path, document]) => {
    const key = path.replace(/^.*\//, '').replace(/\.json$/, '')
    return [key, fromDocument(key, document)]
  }),
)

function groupsOf(scenarios: ReadonlyMap<string, Scenario>): Group[] {
  const left = new Map(scenarios)
  const groups = topics.map(({ title, page, keys }) => ({
    title,
    scenarios: keys.flatMap((entry) => {
      const [key = '', own = page] = entry.split('@')
      const scenario = left.get(key)
      left.delete(key)
      return scenario ? [{ ...scenario, page: own, part: parts[key] }] : []
    }),
  }))
  // A file that no topic names is listed all the same.
  return [...groups, { title: 'More', scenarios: [...left.values()] }].filter((group) => group.scenarios.length > 0)
}

export const groups: readonly Group[] = groupsOf(loaded)

export const gallery: readonly Scenario[] = groups.flatMap(({ scenarios }) => scenarios)

export const shortGallery: readonly Scenario[] = short.flatMap((key) => gallery.filter((one) => one.key === key))

/** What stands on a question's card: the rest of it is told where it is answered. */
export const gistOf = ({ about }: Scenario): string => /^.*?[.?!](?=\s|$)/s.exec(about)?.[0] ?? about

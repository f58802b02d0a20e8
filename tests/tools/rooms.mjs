/**
 * Lint rules that keep the house in order: a room imports from earlier rooms only, a library is known to the one place it
 * belongs to, and what computes knows no browser, no clock and no chance.
 */
import globals from 'globals'
import { builtinModules } from 'node:module'

/** Each may import those before it. */
export const pureRooms = ['units', 'film', 'line', 'scenario', 'run', 'roll', 'wrinkle', 'verdict', 'tune', 'checks']

/** Where a library may be imported; all others may be imported by every room. */
const homes = {
  odex: ['src/run/odex.js'],
  comlink: ['workers/bridge.ts'],
  uplot: ['src/app/charts/plot.ts'],
  svelte: ['src/app/'],
}

/** Folders inside a room nest at most this deep, so that every way out of a room is a known number of steps up. */
const deepest = 4

/**
 * @typedef {object} Place
 * @property {string} path file, or folder with a stroke at its end
 * @property {string[]} files globs it is linted under
 * @property {number} depth steps up from a file to src, or to the project's folder for workers
 * @property {string[]} allowed what those steps may lead to
 * @property {boolean} node whether Node's own modules are known
 */

/**
 * @param {Place} place
 * @returns {{ regex: string, message: string }[]}
 */
function forbiddenImports({ path, depth, allowed, node }) {
  const libraries = Object.entries(homes).filter(([, places]) => !places.some((home) => path.startsWith(home)))
  const builtins = builtinModules.filter((name) => !name.startsWith('_')).join('|')
  return [
    {
      regex: `^(\\.\\./){${depth}}(?!(${allowed.join('|')})(/|$))`,
      message: `A room imports from earlier rooms only; from here that is: ${allowed.join(', ')}.`,
    },
    { regex: '^/|^src/|^\\./(\\./)*\\.\\./|[^./]/\\.\\.(/|$)', message: 'Write the shortest relative path.' },
    { regex: '^\\.{1,2}/.*\\.(ts|js)$', message: 'Imports carry no file extension.' },
    ...libraries.map(([name, places]) => ({
      regex: `^${name}(/|$)`,
      message: `Only ${places.join(', ')} may import ${name}.`,
    })),
    ...(node ? [] : [{ regex: `^node:|^(${builtins})(/|$)`, message: 'Only src/headless and tests know Node.' }]),
  ]
}

/**
 * @param {Place} place
 * @param {object} rules further rules
 */
const forPlace = (place, rules) => ({
  name: `rooms/${place.path}`,
  files: place.files,
  rules: { 'no-restricted-imports': ['error', { patterns: forbiddenImports(place) }], ...rules },
})

const roomFiles = '*.{ts,js,svelte}'

/**
 * A folder under src as places, one for each depth.
 * @param {string} room
 * @param {string[]} allowed
 * @param {boolean} node
 * @returns {Place[]}
 */
const roomPlaces = (room, allowed, node) =>
  Array.from({ length: deepest }, (_, below) => ({
    path: `src/${room}/`,
    files: [`src/${room}/${'*/'.repeat(below)}${roomFiles}`],
    depth: below + 1,
    allowed,
    node,
  }))

const language = globals.builtin
/** @param {...Readonly<Record<string, boolean>>} known */
const without = (...known) => {
  const names = new Set(known.flatMap((one) => Object.keys(one)))
  return Object.keys({ ...globals.browser, ...globals.node, require: false }).filter((name) => !names.has(name))
}

/** @param {string[]} names @param {string} message */
const forbiddenGlobals = (names, message) => ['error', ...names.map((name) => ({ name, message }))]

const surroundings = 'What computes knows no browser, no Node, no clock and no chance.'
const pureRules = {
  'no-restricted-globals': forbiddenGlobals([...without(language), 'Date', 'globalThis'], surroundings),
  'no-restricted-properties': ['error', { object: 'Math', property: 'random', message: surroundings }],
  'no-restricted-syntax': [
    'error',
    // These would slip past no-restricted-imports.
    { selector: 'ImportExpression', message: 'Import at the top of the file.' },
    { selector: 'TSImportType', message: 'Import the type at the top of the file.' },
    { selector: 'MetaProperty', message: surroundings },
  ],
}

const headlessRules = {
  'no-restricted-globals': forbiddenGlobals(without(language, globals.node), 'The command line knows no browser.'),
  'no-restricted-syntax': pureRules['no-restricted-syntax'].slice(0, 3),
}

/** @returns {object[]} flat configuration for eslint */
export function roomRules() {
  const fromPureRooms = pureRooms.flatMap((room, index) =>
    roomPlaces(room, pureRooms.slice(0, index + 1), false).map((place) => forPlace(place, pureRules)),
  )
  const workerHouse = [...pureRooms.map((room) => `src/${room}`)]
  const app = [...pureRooms, 'app', '../workers', '../scenarios']
  /** @param {string} path @returns {Place} */
  const worker = (path) => ({
    path,
    files: [path.endsWith('/') ? `${path}*.ts` : path],
    depth: 1,
    allowed: workerHouse,
    node: false,
  })
  return [
    ...fromPureRooms,
    forPlace(
      { path: 'src/run/odex.js', files: ['src/run/odex.js'], depth: 1, allowed: ['run'], node: false },
      pureRules,
    ),
    ...roomPlaces('headless', [...pureRooms, 'headless'], true).map((place) => forPlace(place, headlessRules)),
    ...roomPlaces('app', app, false).map((place) => forPlace(place, {})),
    forPlace(
      { path: 'src/app/charts/plot.ts', files: ['src/app/charts/plot.ts'], depth: 2, allowed: app, node: false },
      {},
    ),
    forPlace(worker('workers/'), {}),
    forPlace(worker('workers/bridge.ts'), {}),
    {
      name: 'rooms/too deep',
      files: [`src/*/${'*/'.repeat(deepest)}**/${roomFiles}`, `workers/*/**/${roomFiles}`],
      rules: {
        'no-restricted-syntax': [
          'error',
          { selector: 'Program', message: `This folder nests deeper than the rooms' rules reach.` },
        ],
      },
    },
    {
      name: 'rooms/outside',
      files: [`src/${roomFiles}`],
      rules: {
        'no-restricted-syntax': ['error', { selector: 'Program', message: 'Every source file belongs to a room.' }],
      },
    },
  ]
}

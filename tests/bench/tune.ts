/**
 * Modes and maps of a line: without a browser on one core, for the largest shipped line of up to 40 states, and as the Dancer page draws
 * a map, by its pool, with the longest task that kept the page from answering meanwhile.
 */
import { readFileSync, readdirSync } from 'node:fs'
import { join } from 'node:path'
import { chromium } from 'playwright-core'
import { readScenario } from '../../src/scenario/read'
import type { Scenario } from '../../src/scenario/schema'
import { mapper, stations, type Axis, type Figure } from '../../src/tune/map'
import { modesOf } from '../../src/tune/modes'
import { plantOf } from '../../src/tune/plant'
import { standAt } from '../../src/tune/setup'
import { launchOptions, provideBrowser } from '../tools/browser.mjs'
import { serve } from '../tools/serve.mjs'
import type { Row } from '../tools/table.mjs'
import { bestOf } from './measure'

const side = 60
/** s, on two cores */
const budget = 2
/** ms */
const longest = 50
const mostStates = 40

export async function bench(): Promise<Row[]> {
  const { name, scenario, states } = largest()
  const modes = bestOf(
    9,
    () => undefined,
    () => void modesOf(scenario),
  )
  return [
    { what: `modes of ${name}, ${states} states`, budget: '', measured: `${modes.toFixed(1)} ms`, within: null },
    ...figures.map((figure) => rowOfMap(name, scenario, states, figure)),
    ...(await rowsOfPage()),
  ]
}

const figures: readonly Figure[] = [{ of: 'least damping' }, { of: 'phase margin', loop: 0 }]

interface Subject {
  readonly name: string
  readonly scenario: Scenario
  readonly states: number
}

/** Of the shipped lines with a loop, that with the most states within the budget's. */
function largest(): Subject {
  const folder = join(process.cwd(), 'scenarios')
  const found = readdirSync(folder).flatMap((file): Subject[] => {
    const reading = readScenario(readFileSync(join(folder, file), 'utf8'))
    if (!reading.ok || reading.scenario.control[0]?.control !== 'position trim') return []
    const standing = standAt(reading.scenario)
    if (!standing.ok) return []
    const states = plantOf(standing, false).n
    return states <= mostStates ? [{ name: file.replace('.json', ''), scenario: reading.scenario, states }] : []
  })
  return found.reduce((a, b) => (b.states > a.states ? b : a))
}

function rowOfMap(name: string, scenario: Scenario, states: number, figure: Figure): Row {
  const trim = scenario.control.find((one) => one.control === 'position trim')
  const axis = (path: string, value: number): Axis => ({ path, from: value / 10, to: value * 10, scale: 'log' })
  const across = axis('control/0/gain', trim?.gain ?? 1)
  const up = axis('control/0/integral', trim !== undefined && trim.integral > 0 ? trim.integral : 0.1)
  const time = bestOf(
    3,
    () => mapper(scenario, { across, up, figure }),
    (map) => {
      if (!map.ok) throw new Error(map.say)
      for (const y of stations(up, side)) for (const x of stations(across, side)) map.cell(x, y)
    },
  )
  return {
    what: `map of ${figure.of}, ${side} x ${side}, ${name}, ${states} states, on one core`,
    budget: `${budget} s on two cores`,
    measured: `${(time / 1000).toFixed(2)} s`,
    within: time <= 2 * 1000 * budget,
    note: `${((1000 * time) / side / side).toFixed(0)} us for a cell; half the time on two cores`,
  }
}

/** The Dancer page: from its Map being opened to the last row, the scenario being the one that is shown first. */
async function rowsOfPage(): Promise<Row[]> {
  const { address, close } = await serve(join(process.cwd(), 'dist'), 0)
  const browser = await chromium.launch({ ...launchOptions, executablePath: await provideBrowser() })
  try {
    const page = await browser.newPage({ viewport: { width: 1440, height: 900 } })
    await page.goto(new URL('#dancer/sheet', address).href)
    await page.locator('[data-phase="finished"]').waitFor()
    const { whole, coarse, tasks } = await page.evaluate(async () => {
      const tasks: number[] = []
      const watch = new PerformanceObserver((list) => list.getEntries().forEach((task) => tasks.push(task.duration)))
      watch.observe({ type: 'longtask' })
      const until = async (wanted: () => boolean) => {
        while (!wanted()) await new Promise((resolve) => setTimeout(resolve, 5))
        return performance.now() - began
      }
      const began = performance.now()
      location.hash = '#dancer/map'
      const coarse = await until(() => document.querySelector('[aria-label^="Map of"]') !== null)
      const whole = await until(() => document.querySelector('.body[aria-busy="false"]') !== null)
      await new Promise((resolve) => setTimeout(resolve, 200))
      return { coarse, whole, tasks }
    })
    const worst = Math.max(0, ...tasks)
    return [
      {
        what: `map on the Dancer page, ${side + 1} x ${side + 1}, opened to whole`,
        budget: `${budget} s`,
        measured: `${(whole / 1000).toFixed(2)} s`,
        within: whole <= 1000 * budget,
        note: `coarse after ${(coarse / 1000).toFixed(2)} s`,
      },
      {
        what: 'longest task of the page meanwhile',
        budget: `${longest} ms`,
        measured: worst === 0 ? 'none over 50 ms' : `${worst.toFixed(0)} ms`,
        within: worst <= longest,
      },
    ]
  } finally {
    await browser.close()
    await close()
  }
}

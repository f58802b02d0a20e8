/** What is known of a run before its first sample. */
import { storedSwing, type FeedSpec } from '../line/feed'
import type { Line } from '../line/line'
import { eventNames } from './agenda'
import type { Pace } from './pace'
import type { FeedPlan, RunPlan } from './record'
import type { RunScenario } from './run'

/** Plan of a run of `scenario` on `line`, at its start. */
export function planOf(scenario: RunScenario, line: Line, pace: Pace, channels: RunPlan['channels']): RunPlan {
  const { limits, run } = scenario
  return {
    title: scenario.title,
    duration: run.for,
    tick: run.tick,
    channels: channels.map(({ key, group, name, kind, place }) => ({ key, group, name, kind, place })),
    spans: line.spans.names.map((name, j) => {
      const elasticTension = line.spans.limitTension(j)
      return { name, elasticTension, most: elasticTension * limits.shareOfElastic, least: limits.leastTension }
    }),
    dancers: line.carriages.map((c) => ({
      name: c.name,
      lowerStop: c.setup.lowerStop,
      upperStop: c.setup.upperStop,
      setPoint: c.setup.setPoint,
    })),
    pace,
    events: eventNames(line),
    feeds: feedsOf(line),
  }
}

/** For every index feed that the stage changes over to: how much film it swings, and the dancer travel that takes. */
function feedsOf(line: Line): FeedPlan[] {
  return line.spec.line.flatMap((part) => {
    if (part.part !== 'driven' || part.index === undefined) return []
    const swing = greatestSwing(line, part.name, part.index)
    if (swing === 0) return []
    const roller = line.rollers.names.indexOf(part.name)
    const dancers = [neighbour(line, roller, -1), neighbour(line, roller, 1)].flatMap((c) => c ?? [])
    return [
      {
        name: part.name,
        swing,
        dancers: dancers.map(({ name, setup, strands }) => ({
          name,
          needs: swing / strands.total(),
          has: setup.upperStop - setup.lowerStop,
        })),
      },
    ]
  })
}

function greatestSwing(line: Line, roller: string, feed: FeedSpec): number {
  const starts = line.spec.stage.filter((e) => e.do === 'changeover' && e.to === 'indexing' && e.roller === roller)
  return Math.max(0, ...starts.map((e) => storedSwing(feed, feed.pitch / line.courses.line.speedAt(e.at))))
}

/** The dancer between a roller and the next drive up (-1) or down (1) the line. */
function neighbour(line: Line, roller: number, way: -1 | 1) {
  const drives = line.drives.map((d) => d.roller)
  for (let i = roller + way; i >= 0 && i < line.rollers.count && !drives.includes(i); i += way) {
    const found = line.carriages.find((c) => c.name === line.rollers.names[i])
    if (found !== undefined) return found
  }
  return undefined
}

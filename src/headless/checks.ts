/** `checks`: every check with its source, row by row. */
import { runChecks, type CheckResult } from '../checks'
import { formatNumber } from '../units'
import { exitCodes } from './exit'

export function checksCommand(print: (line: string) => void, results: readonly CheckResult[] = runChecks()): number {
  for (const result of results) for (const line of lines(result)) print(line)
  const failed = results.filter(({ pass }) => !pass).length
  print(`${results.length} checks, ${results.length - failed} passed, ${failed} failed`)
  return failed === 0 && results.length > 0 ? exitCodes.finished : exitCodes.limit
}

function lines({ check, pass, rows, problem }: CheckResult): string[] {
  const { id, title, kind, source, inputs } = check
  return [
    `${word(pass)}  ${id}  ${title}`,
    `      ${kind}: ${source}`,
    `      with ${inputs}`,
    ...(problem === undefined ? [] : [`      could not be computed: ${problem}`]),
    ...rows.map(({ what, expected, computed, unit, tolerance, pass }) => {
      const [wanted, found] = [expected, computed].map((value) => quantity(value, unit))
      return `      ${word(pass)}  ${what}: expected ${wanted}, computed ${found}, tolerance ${quantity(tolerance, unit)}`
    }),
    '',
  ]
}

function quantity(value: number, unit: string): string {
  const number = formatNumber(value, 8)
  return unit === '' || unit === '1' ? number : `${number} ${unit}`
}

function word(pass: boolean): string {
  return pass ? 'pass' : 'FAIL'
}

/** Counting what was tested. */

/** @typedef {{ passed: number, failed: number }} Counts */
/** @typedef {{ status: string, assertionResults: { status: string }[] }} FileResult */

/**
 * Counts of a vitest JSON report. A file that broke before its tests ran counts as one failure, and so does a run that
 * failed without a failed test (an error outside every test), or that ran no test at all.
 * @param {{ testResults: FileResult[] } | undefined} report undefined: none was written
 * @param {number} exitCode of vitest
 * @returns {Counts}
 */
export function countTests(report, exitCode) {
  let passed = 0
  let failed = 0
  for (const file of report?.testResults ?? []) {
    const broken = file.assertionResults.filter(({ status }) => status === 'failed').length
    passed += file.assertionResults.filter(({ status }) => status === 'passed').length
    failed += file.status === 'failed' ? Math.max(broken, 1) : broken
  }
  if (failed === 0 && (exitCode !== 0 || passed === 0)) failed = 1
  return { passed, failed }
}

/**
 * @param {readonly Counts[]} stages
 * @returns {Counts}
 */
export function addCounts(stages) {
  return stages.reduce((sum, { passed, failed }) => ({ passed: sum.passed + passed, failed: sum.failed + failed }), {
    passed: 0,
    failed: 0,
  })
}

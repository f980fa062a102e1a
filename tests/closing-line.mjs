// The one line that closes a test run, and whether the run counts as passed.

/**
 * @param {number} code vitest's exit code
 * @param results what vitest's JSON reporter wrote, if it came that far
 * @returns `line` to print last, and `trouble` when the run must not count as passed, whatever its exit code
 */
export function close(code, results) {
  const { passed, failed, skipped } = count(results);
  const line = `${passed} passed, ${failed} failed${skipped > 0 ? `, ${skipped} skipped` : ''}`;
  if (passed + failed === 0) return { line, trouble: 'no test was run' };
  if (failed > 0) return { line, trouble: 'there are failures: see above' };
  if (code !== 0) return { line, trouble: 'every test passed, but the run itself failed: see above' };
  return { line };
}

/** A file that could not even be loaded counts as one test that failed. */
function count(results) {
  if (results === undefined) return { passed: 0, failed: 0, skipped: 0 };
  const unloadable = results.testResults.filter(
    (file) => file.status === 'failed' && !file.assertionResults.some((test) => test.status === 'failed'),
  );
  return {
    passed: results.numPassedTests,
    failed: results.numFailedTests + unloadable.length,
    skipped: results.numPendingTests + results.numTodoTests,
  };
}

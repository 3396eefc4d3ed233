// The closing line of .ci/run: how many tests passed and failed in the last npm test.
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { results } from './steps.mjs';

/**
 * @param {string} text a vitest JSON report
 * @returns {{ passed: number, failed: number }} a file that could not even be read counts as one failure
 */
function count(text) {
  /** @type {{ numPassedTests: number, numFailedTests: number, success: boolean,
   *   testResults: { status: string, assertionResults: { status: string }[] }[] }} */
  const report = JSON.parse(text);
  const unread = report.testResults.filter(
    (file) => file.status === 'failed' && !file.assertionResults.some((test) => test.status === 'failed'),
  ).length;
  const failed = report.numFailedTests + unread;
  // An error outside any test fails the run without failing a test.
  return { passed: report.numPassedTests, failed: failed === 0 && !report.success ? 1 : failed };
}

let passed = 0;
let failed = 0;
for (const name of ['unit', 'browser', 'sound']) {
  const path = join(results, `${name}.json`);
  if (!existsSync(path)) continue;
  const counts = count(readFileSync(path, 'utf8'));
  passed += counts.passed;
  failed += counts.failed;
}
// npm test can also fail outside the tests: at its setup, at the types, at the lint.
if (process.argv[2] !== '0' && failed === 0) failed = 1;
console.log(`${passed} passed, ${failed} failed`);

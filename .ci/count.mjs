// Sums the counts of the suites and ends with one line; fails where a test or a step failed, or where nothing ran.
import { existsSync, readdirSync, readFileSync } from "node:fs";

const [folder, failedSteps] = process.argv.slice(2);
const reports = existsSync(folder) ? readdirSync(folder).filter((name) => name.endsWith(".json")) : [];
const total = { passed: 0, failed: Number(failedSteps), skipped: 0 };
for (const name of reports) {
  const report = JSON.parse(readFileSync(`${folder}/${name}`, "utf8"));
  total.passed += report.numPassedTests;
  total.failed += report.numFailedTests;
  total.skipped += report.numPendingTests + report.numTodoTests;
}
console.log(`${total.passed} passed, ${total.failed} failed, ${total.skipped} skipped`);
process.exit(total.failed > 0 || total.passed === 0 ? 1 : 0);

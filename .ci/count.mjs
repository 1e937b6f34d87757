// Names every test that failed, sums the counts of the suites and ends with one line; fails where a test or a step
// failed, or where nothing ran. The names stand here, at the end, because the suites' own output is long.
import { existsSync, readdirSync, readFileSync } from "node:fs";

const linesOfAMessage = 12;
const [folder, failedSteps] = process.argv.slice(2);
const reports = existsSync(folder) ? readdirSync(folder).filter((name) => name.endsWith(".json")) : [];
const total = { passed: 0, failed: Number(failedSteps), skipped: 0 };
for (const name of reports) {
  const report = JSON.parse(readFileSync(`${folder}/${name}`, "utf8"));
  total.passed += report.numPassedTests;
  total.failed += report.numFailedTests;
  total.skipped += report.numPendingTests + report.numTodoTests;
  for (const file of report.testResults) printFailures(name, file);
}
console.log(`${total.passed} passed, ${total.failed} failed, ${total.skipped} skipped`);
process.exit(total.failed > 0 || total.passed === 0 ? 1 : 0);

function printFailures(suite, file) {
  const failed = file.assertionResults.filter((test) => test.status === "failed");
  for (const test of failed) print(suite, file, test.fullName, test.failureMessages.join("\n"));
  if (file.status === "failed" && failed.length === 0) print(suite, file, "(the file itself)", file.message ?? "");
}

function print(suite, file, test, message) {
  const colours = new RegExp(`${String.fromCharCode(27)}\\[[0-9;]*m`, "g");
  const lines = message.replace(colours, "").split("\n").slice(0, linesOfAMessage);
  console.log(`failed (${suite.replace(".json", "")}): ${file.name.replace(`${process.cwd()}/`, "")} > ${test}`);
  for (const line of lines) console.log(`    ${line.slice(0, 300)}`);
}

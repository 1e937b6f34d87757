// Names every test that failed, sums the counts of the suites and ends with one line; fails where a test or a step
// failed, or where nothing ran. The names stand here, at the end, because the suites' own output is long; of many tests
// that failed each says less, so that all are among the last lines.
import { existsSync, readdirSync, readFileSync } from "node:fs";

/** lines for what failed, all tests together, and of one test at most */
const linesInAll = 22;
const linesOfAMessage = 12;

const [folder, failedSteps] = process.argv.slice(2);
const names = existsSync(folder) ? readdirSync(folder).filter((name) => name.endsWith(".json")) : [];
const total = { passed: 0, failed: Number(failedSteps), skipped: 0 };
const failures = [];
for (const name of names) {
  const report = JSON.parse(readFileSync(`${folder}/${name}`, "utf8"));
  total.passed += report.numPassedTests;
  total.failed += report.numFailedTests;
  total.skipped += report.numPendingTests + report.numTodoTests;
  for (const file of report.testResults) failures.push(...failuresIn(name.replace(".json", ""), file));
}
const most = Math.min(linesOfAMessage, Math.max(0, Math.floor(linesInAll / failures.length) - 1));
for (const { title, message } of failures.slice(0, linesInAll)) {
  console.log(`failed ${title}`);
  for (const line of message.slice(0, most)) console.log(`    ${line.slice(0, 300)}`);
}
if (failures.length > linesInAll) console.log(`and ${failures.length - linesInAll} tests more failed`);
console.log(`${total.passed} passed, ${total.failed} failed, ${total.skipped} skipped`);
process.exit(total.failed > 0 || total.passed === 0 ? 1 : 0);

function failuresIn(suite, file) {
  const of = (test, message) => ({
    title: `(${suite}): ${file.name.replace(`${process.cwd()}/`, "")} > ${test}`,
    message: plain(message).split("\n"),
  });
  const failed = file.assertionResults.filter((test) => test.status === "failed");
  if (file.status === "failed" && failed.length === 0) return [of("(the file itself)", file.message ?? "")];
  return failed.map((test) => of(test.fullName, test.failureMessages.join("\n")));
}

function plain(message) {
  return message.replace(new RegExp(`${String.fromCharCode(27)}\\[[0-9;]*m`, "g"), "");
}

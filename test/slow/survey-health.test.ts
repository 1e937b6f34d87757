import { expect, it } from "vitest";
import { band, driftFound, falseAlarms, type Rate, swarfFound } from "../survey/health-rates.js";

/** first of the seeds that the limits of the checks were not set on */
const unused = 3_000_001;

function report(what: string, { cases, hits }: Rate, claim: number): void {
  const half = band(cases, claim);
  console.log(
    `${what}: ${hits} of ${cases} (${((100 * hits) / cases).toFixed(1)} %), claimed ${100 * claim} %, band ${(claim * cases - half).toFixed(0)} to ${(claim * cases + half).toFixed(0)}`,
  );
}

it("alarms on no more than 5 % of 1,000 clean sheets, read in whole micrometres", () => {
  const rate = falseAlarms(1000, unused);
  report("any false alarm on a clean sheet", rate, 0.05);
  expect(rate.hits).toBeLessThanOrEqual(50);
});

it("names the place of a reading that swarf lifted by 5 to 25 standard deviations in 95 % of 600 sheets", () => {
  const rate = swarfFound(600, 5, 25, unused);
  report("swarf of 5 to 25 s", rate, 0.95);
  expect(rate.hits).toBeGreaterThanOrEqual(0.95 * rate.cases);
});

it("finds a drift of 2 to 6 standard deviations in 95 % of 400 sheets", () => {
  const rate = driftFound(400, 2, 6, unused);
  report("drift of 2 to 6 s", rate, 0.95);
  expect(rate.hits).toBeGreaterThanOrEqual(0.95 * rate.cases);
});

// One reading in a hundred, tested so that 95 of 100 clean sheets stay quiet, cannot be found 95 times in 100 at 5 s:
// the limit lies near 3.6 s and its own fit takes some. What is found at each size is printed, and must not get worse.
it("finds more the larger the error, and nearly all from 7 standard deviations on", () => {
  const rates = [5, 6, 7, 8].map((size) => {
    const rate = swarfFound(200, size, size, unused);
    report(`swarf of ${size} s exactly`, rate, 0.95);
    return rate.hits / rate.cases;
  });
  console.log(
    "exactly 5 s in 95 % of sheets cannot be met: one reading in a hundred, tested so that 95 of 100 clean sheets stay quiet, has its limit near 3.6 s, and its own fit takes some of the 5 s",
  );
  expect(rates[0]).toBeGreaterThan(0.45);
  expect(rates[1]).toBeGreaterThan(0.75);
  expect(rates[2]).toBeGreaterThan(0.92);
  expect(rates[3]).toBeGreaterThan(0.97);
  const drift = driftFound(200, 2, 2, unused);
  report("drift of 2 s exactly", drift, 0.95);
  expect(drift.hits).toBeGreaterThanOrEqual(0.95 * drift.cases - band(drift.cases, 0.95));
});

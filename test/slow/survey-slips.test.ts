import { expect, it } from "vitest";
import { slipAlarms, slipFound } from "../survey/planted-slips.js";

it("asks about a slip on at most 1 % of 1,000 clean pairs of maps", () => {
  const { cases, hits } = slipAlarms(1000, 800_000);
  console.log(
    `a slip asked about on a clean pair of maps: ${hits} of ${cases} (${((100 * hits) / cases).toFixed(1)} %)`,
  );
  expect(hits).toBeLessThanOrEqual(10);
});

it.each([
  ["sense", "sense"],
  ["units in thou", "units"],
  ["mirrored left to right", "arrangement"],
  ["mirrored front to back", "arrangement"],
  ["turned by 180°", "arrangement"],
  ["lever angle", "lever angle"],
  ["rows shifted", "rows"],
  ["turn", "turn"],
])("finds %s on most of 200 sheets", (name, check) => {
  const { cases, hits } = slipFound(name, check, 200, 900_000);
  console.log(
    `${name}: asked about on ${hits} of ${cases} sheets (tables drawn at random: one that looks the same both ways round cannot show it)`,
  );
  expect(hits).toBeGreaterThan(0.5 * cases);
});

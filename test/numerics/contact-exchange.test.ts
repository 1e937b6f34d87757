import { describe, expect, it } from "vitest";
import { ContactExchange } from "../../kernel-lib/src/numerics/contact-exchange.js";
import { refusal } from "../refusal.js";

/**
 * Two highs with a low between them on one line hold a slab of half width 1; it may still turn about that line. Places
 * off the line, each 0.45 times as far as the one before, ask one after another for a turn of 0.05 more: the worst place
 * outside is always the next one, and each exchange gains nothing.
 */
function turning(levels: number): ContactExchange {
  const off = Array.from({ length: levels }, (_, k) => levels - k).map((n) => ({ y: 0.45 ** n, turn: 0.05 * n }));
  const y = [...off.map((one) => one.y), 1, 0, 0, 0];
  const x = [...off.map(() => 0), 0, -1, 1, 0];
  const z = [...off.map((one) => 1 + one.turn * one.y), 1, 1, 1, -1];
  const start = { index: [levels + 1, levels + 2, levels + 3, levels], side: [1, 1, -1, 1] as const };
  return new ContactExchange(Float64Array.from(x), Float64Array.from(y), Float64Array.from(z), {
    index: [...start.index],
    side: [...start.side],
  });
}

describe("the exchange of contacts", () => {
  it("takes the first place outside instead of the worst after twenty exchanges without gain", () => {
    // the worst by turns would take 27 exchanges; the place that asks for most stands first in the list
    const exchange = turning(27);
    exchange.run(25);
    expect(exchange.half).toBeCloseTo(1, 12);
    expect(exchange.slopeX).toBeCloseTo(0, 12);
    expect(exchange.slopeY).toBeCloseTo(27 * 0.05, 1);
  });

  it("takes the worst as long as twenty exchanges do", () => {
    const exchange = turning(18);
    expect(refusal(() => exchange.run(18))).toEqual({
      code: "no-convergence",
      message: "minimumZonePlane: the contacts still change after 18 exchanges; look for places that nearly coincide",
    });
    exchange.run(1);
    expect(exchange.slopeY).toBeCloseTo(18 * 0.05, 6);
    expect(exchange.contacts().shares.map(({ side, share }) => [side, share])).toEqual([
      ["upper", expect.closeTo(0.25, 9)],
      ["upper", expect.closeTo(0.25, 9)],
      ["lower", expect.closeTo(0.5, 9)],
    ]);
  });
});

import { it } from "vitest";
import type { LocalHighs, LocalLows } from "../../kernel-lib/src/form/index.js";

declare const highs: LocalHighs;
declare const lows: LocalLows;

it("keeps highs and lows apart", () => {
  const stoned = (_: LocalHighs) => undefined;
  stoned(highs);
  // @ts-expect-error a low is not stoned
  stoned(lows);
});

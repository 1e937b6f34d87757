import { expect, it } from "vitest";
import { flatness } from "../../kernel-lib/src/form/index.js";
import { mapOf } from "./planted.js";

it("reads 0.02 mm over 150 mm as 133.333 µm/m or 27.502″ (computed from the definition of the arc-second)", () => {
  const places = [0, 75, 150].flatMap((xMm) =>
    [0, 75, 150].map((yMm) => ({ label: `${xMm}/${yMm}`, xMm, yMm, zUm: (20 * xMm) / 150, count: 2 })),
  );
  const { tiltX, tiltY } = flatness(mapOf(places));
  expect(tiltX.in("um/m").toFixed(3)).toBe("133.333");
  expect(tiltX.in("arcsec").toFixed(3)).toBe("27.502");
  expect(Math.abs(tiltY.in("um/m"))).toBeLessThan(1e-9);
});

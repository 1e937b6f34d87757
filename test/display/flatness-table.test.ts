import { expect, it } from "vitest";
import { display, form } from "../../kernel-lib/src/index.js";
import { randomStream } from "../../kernel-lib/src/numerics/random.js";
import { parseSurvey } from "../../kernel-lib/src/survey/survey.js";

/** a bow of 8 µm under a scatter of 3 µm, read twice at 5 × 4 places */
function noisy(seed: number) {
  const { normal } = randomStream(seed);
  const rows = [1, 2].flatMap((pass) =>
    Array.from({ length: 20 }, (_, i) => {
      const [column, row] = [i % 5, Math.floor(i / 5)];
      const z = Math.round(2 * (column - 2) ** 2 + 3 * normal());
      return `${"ABCD"[row]}${column + 1},${60 * column},${60 * row},${z},${pass}`;
    }),
  );
  const head = ["relative to: travel", "front: y-", "+x: right", "+y: back", "gauge resolution: 1 um"];
  const lines = [...head, "gauge maximum permissible error: 3 um"].map((line) => `# ${line}`);
  return form.flatness(parseSurvey([...lines, "place,x/mm,y/mm,z/um,pass", ...rows].join("\n")));
}

it("says why a minimum zone freed of noise may come out wider than the peak to valley, and only then", () => {
  const note =
    "each figure is freed of noise by itself: that the minimum zone comes out the wider here lies within their ±";
  const told = Array.from({ length: 12 }, (_, seed) => {
    const flat = noisy(seed + 1);
    const isWider = flat.minimumZone.corrected.in("um") > flat.overall.in("um");
    expect(flat.minimumZone.raw.in("um")).toBeLessThanOrEqual(flat.peakToValley.raw.in("um"));
    expect(String(flat[display]()["text/plain"]).includes(note)).toBe(isWider);
    return isWider;
  });
  expect(new Set(told).size).toBe(2);
});

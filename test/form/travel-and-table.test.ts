import { describe, expect, it } from "vitest";
import { travelAndTable } from "../../kernel-lib/src/form/index.js";
import { randomStream } from "../../kernel-lib/src/numerics/index.js";
import { um } from "../../kernel-lib/src/quantity/index.js";
import { gauge, type Surface } from "../../kernel-lib/src/survey/index.js";
import { refusal } from "../refusal.js";
import { binomialBand } from "./coverage.js";

const dial = gauge({ name: "dial", resolution: um(0.1), maximumPermissibleError: um(1) });
type Height = (x: number, y: number) => number;
const map = (relativeTo: Surface["frame"]["relativeTo"], height: Height, uUm = 0.5, columns = 5): Surface => ({
  name: `against ${relativeTo}`,
  frame: { relativeTo, front: "y-", plusX: "right", plusY: "back" },
  gauge: dial,
  places: Array.from({ length: columns * 4 }, (_, k) => {
    const [x, y] = [k % columns, Math.floor(k / columns)];
    return { label: `P${k}`, xMm: 100 * x, yMm: 50 * y, zUm: height(x - (columns - 1) / 2, y - 1.5), count: 2 };
  }),
  noise: { standardUncertaintyUm: uUm, degreesOfFreedom: 1000 },
});
// neither has a part along a plane, so that they are what the least-squares plane leaves
const table: Height = (x) => 3 * (x * x - 2);
const travel: Height = (x, y) => 2 * x * y;

describe("travel against table", () => {
  it("separates a planted table and a planted travel, whatever the planes both maps lie on", () => {
    const found = travelAndTable({
      byIndicator: map("travel", (x, y) => table(x, y) - travel(x, y) + 4 * x + 7),
      byLevel: map("gravity", (x, y) => table(x, y) - 9 * y - 20),
    });
    const [planted, path] = [map("gravity", table).places, map("gravity", travel).places];
    for (const [i, { zUm }] of planted.entries()) expect(found.table.places[i]?.zUm).toBeCloseTo(zUm, 9);
    for (const [i, { zUm }] of path.entries()) expect(found.travel.places[i]?.zUm).toBeCloseTo(zUm, 9);
  });

  it("claims for the travel the scatter that planted ones show: chi-square of 17 degrees of freedom, 95 in 100", () => {
    const stream = randomStream(8117);
    const noisy =
      (height: Height, u: number): Height =>
      (x, y) =>
        height(x, y) + u * stream.normal();
    const runs = 1000;
    const path = map("gravity", travel).places;
    let hits = 0;
    for (let run = 0; run < runs; run++) {
      const found = travelAndTable({
        byIndicator: map(
          "travel",
          noisy((x, y) => table(x, y) - travel(x, y), 0.4),
          0.4,
        ),
        byLevel: map("gravity", noisy(table, 0.9), 0.9),
      });
      const u = found.travel.noise.standardUncertaintyUm;
      const sum = found.travel.places.reduce((s, { zUm }, i) => s + ((zUm - path[i]!.zUm) / u) ** 2, 0);
      // 95 % point for 17 degrees of freedom as statistical tables print it, from memory
      if (sum <= 27.587) hits++;
    }
    const [low, high] = binomialBand(runs, 0.95);
    console.log(`travel and table: ${hits} of ${runs}, band ${low} to ${high}`);
    expect(hits).toBeGreaterThanOrEqual(low);
    expect(hits).toBeLessThanOrEqual(high);
  });

  it("pairs each place once, with the nearest", () => {
    const byLevel = map("gravity", table);
    const twice = {
      ...byLevel,
      places: [...byLevel.places.map((p) => ({ ...p, xMm: p.xMm + 0.6, zUm: 99 })), ...byLevel.places],
    };
    const found = travelAndTable({ byIndicator: map("travel", table), byLevel: twice });
    expect(found.table.places).toHaveLength(20);
    for (const { zUm } of found.travel.places) expect(Math.abs(zUm)).toBeLessThan(1e-9);
  });

  it("refuses maps against the same thing, maps the other way round, and too few places in common", () => {
    const [byIndicator, byLevel] = [map("travel", table), map("gravity", table)];
    expect(refusal(() => travelAndTable({ byIndicator: byLevel, byLevel }))).toEqual({
      code: "relative-to",
      message:
        "travelAndTable: against gravity is relative to gravity and against gravity to gravity; give a map against travel and one against gravity",
    });
    const turned: Surface = { ...byLevel, frame: { ...byLevel.frame, front: "y+" } };
    expect(refusal(() => travelAndTable({ byIndicator, byLevel: turned }))).toEqual({
      code: "frame",
      message:
        "travelAndTable: against travel and against gravity do not lie the same way round; turn one so that FRONT and +X agree",
    });
    const row: Surface = { ...byLevel, places: byLevel.places.slice(0, 5) };
    expect(refusal(() => travelAndTable({ byIndicator, byLevel: row }))).toEqual({
      code: "on-a-line",
      message:
        "travelAndTable: the 5 places that against travel and against gravity share lie on one line; read a place beside it in both, or take the straightness of each along it",
    });
    const few: Surface = { ...byLevel, places: byLevel.places.slice(0, 3) };
    expect(refusal(() => travelAndTable({ byIndicator, byLevel: few }))).toEqual({
      code: "too-few-places",
      message:
        "travelAndTable: against travel and against gravity share 3 places within 1 mm; four are needed at least, off one line: read both on the same places",
    });
  });
});

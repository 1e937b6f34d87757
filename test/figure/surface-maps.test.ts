import { describe, expect, it } from "vitest";
import { surfaceChance, surfaceMap, surfaceUncertainty } from "../../kernel-lib/src/figure/index.js";
import { surface } from "../../kernel-lib/src/form/index.js";
import { mm, um } from "../../kernel-lib/src/quantity/index.js";
import { clubTable, scatteredTable } from "./club-table.js";
import { liveWords, stillWords } from "./words.js";

const slots = [{ along: "x", at: mm(75), width: mm(14) }] as const;
const fitted = surface(clubTable(), { slots, holes: [{ x: mm(490), y: mm(125), diameter: mm(30) }] });
const figures = {
  "surface map": surfaceMap(fitted, { notes: ["open sheet"] }),
  "uncertainty map": surfaceUncertainty(fitted),
  "chance map": surfaceChance(fitted.chanceAbove(um(10))),
  "map of scattered places": surfaceMap(surface(scatteredTable())),
};

describe.each(Object.entries(figures))("%s", (_, figure) => {
  it("says the same words live and still, and in its title what its band does not hold", () => {
    const { texts } = figure;
    for (const words of [liveWords(figure), stillWords(figure)]) {
      for (const text of [texts.title, texts.subtitle, ...texts.axes, ...texts.lines, ...texts.marked]) {
        expect(words).toContain(text.replace(/\s+/g, " "));
      }
    }
    expect(texts.title).toMatch(/the band does not hold a ding smaller than the pitch, [\d.]+ × [\d.]+ mm$/);
    expect(figure.still).not.toMatch(/NaN|Infinity|undefined/);
  });
});

it("draws slots and holes as gaps, live and still, and only where there are any", () => {
  const { layout, still } = figures["surface map"];
  expect((layout.shapes as { type: string }[]).map(({ type }) => type)).toEqual(["rect", "circle"]);
  expect(still.match(/<circle [^>]*fill="#ffffff"/g)).toHaveLength(1);
  expect(figures["map of scattered places"].layout.shapes).toEqual([]);
});

it("covers what stood on the table, turned with the frame, and names it", () => {
  const obstacles = [{ name: "vice", x: [mm(355), mm(415)], y: [mm(40), mm(500)] }] as const;
  const figure = surfaceMap(surface(clubTable(), { obstacles, slots }));
  const [slot, vice] = figure.layout.shapes as { x0: number; x1: number; y0: number; y1: number }[];
  expect([vice!.x0, vice!.x1, vice!.y0]).toEqual([355, 415, 40]);
  // cut at the outermost places
  expect(vice!.y1).toBeLessThan(260);
  expect([slot!.y0, slot!.y1]).toEqual([68, 82]);
  expect(figure.texts.lines.at(-1)).toMatch(
    /nothing is carried on beyond them; white: slots, the vice, where no surface/,
  );
});

it("shares no id with another picture: several stand in one page, and one may be hidden", () => {
  const idsOf = ({ still }: { readonly still: string }) => [...still.matchAll(/ id="([^"]+)"/g)].map(([, id]) => id!);
  const ids = Object.values(figures).flatMap(idsOf);
  expect(ids.length).toBe(Object.keys(figures).length);
  expect(new Set(ids).size).toBe(ids.length);
  for (const figure of Object.values(figures)) expect(figure.still).toContain(`url(#${idsOf(figure)[0]})`);
});

it("turns its heights and gaps with the frame", () => {
  const frame = { relativeTo: "travel", front: "x+", plusX: "front", plusY: "right" } as const;
  const turned = surfaceMap(surface(clubTable({ frame }), { slots }));
  const [rect] = turned.layout.shapes as { x0: number; x1: number }[];
  expect([rect!.x0, rect!.x1]).toEqual([68, 82]);
  const [contour] = turned.data as unknown as { x: number[]; y: number[]; z: number[][] }[];
  // the raised corner, x and y greatest, lies at the right front
  expect(contour!.z[0]!.at(-1)).toBeGreaterThan(20);
  expect(contour!.y[0]).toBe(-980);
});

import { describe, expect, it } from "vitest";
import { formName, placeWords, relativeWords } from "../../kernel-lib/src/form/index.js";
import { slopeWords } from "../../kernel-lib/src/form/place-words.js";
import { umPerM } from "../../kernel-lib/src/quantity/index.js";
import type { Frame } from "../../kernel-lib/src/survey/index.js";
import { mapOf } from "./planted.js";

/** a map from x 30 to 330 mm, y 60 to 210 mm: thirds end at x 130 and 230, y 110 and 160 */
const { frame, places } = mapOf(
  [30, 330].flatMap((xMm) => [60, 210].map((yMm) => ({ label: "P", xMm, yMm, zUm: 0, count: 1 }))),
);
const where = (xMm: number, yMm: number, turned: Partial<Frame> = {}) =>
  placeWords({ ...frame, ...turned }, places, { xMm, yMm });

describe("the words for a place on the map", () => {
  it("are the nine thirds, what lies on the border of a third belonging to the middle one", () => {
    const rows = [205, 135, 65].map((y) => [40, 180, 320].map((x) => where(x, y)));
    expect(rows).toEqual([
      ["left back", "back", "right back"],
      ["left", "middle", "right"],
      ["left front", "front", "right front"],
    ]);
    expect([where(130, 110), where(230, 160), where(129.9, 109.9), where(230.1, 160.1)]).toEqual([
      "middle",
      "middle",
      "left front",
      "right back",
    ]);
  });

  it("are those of the operator at FRONT, whichever way the axes point", () => {
    const at = (plusX: Frame["plusX"], plusY: Frame["plusY"]) => [
      where(320, 65, { plusX, plusY }),
      where(320, 135, { plusX, plusY }),
    ];
    expect(at("right", "back")).toEqual(["right front", "right"]);
    expect(at("left", "front")).toEqual(["left back", "left"]);
    expect(at("back", "left")).toEqual(["right back", "back"]);
    expect(at("front", "right")).toEqual(["left front", "front"]);
  });

  it("leave out a direction in which the map has no width", () => {
    const row = [0, 100, 200].map((xMm) => ({ label: "P", xMm, yMm: 50, zUm: 0, count: 1 }));
    expect(placeWords(frame, row, { xMm: 0, yMm: 50 })).toBe("left");
    expect(placeWords(frame, row, { xMm: 100, yMm: 50 })).toBe("middle");
  });
});

it("what heights are relative to stands in words, and against travel nothing is called flatness alone", () => {
  expect((["travel", "gravity", "artefact"] as const).map((to) => [relativeWords(to), formName(to)])).toEqual([
    [
      "relative to travel",
      "flatness relative to travel (the table's form and the straightness of its travel together)",
    ],
    ["relative to gravity", "flatness relative to gravity"],
    ["relative to the artefact", "flatness relative to the artefact"],
  ]);
});

it("a slope is said with two digits", () => {
  expect([4.16, 0.0307, 123.4, -2.25].map((v) => slopeWords(umPerM(v)))).toEqual([
    "4.2 µm/m",
    "0.031 µm/m",
    "120 µm/m",
    "−2.3 µm/m",
  ]);
});

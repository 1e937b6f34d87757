import { describe, expect, it } from "vitest";
import { colourAt, heightScale } from "../../kernel-lib/src/figure/colour.js";
import type { Figure, JsonObject } from "../../kernel-lib/src/figure/index.js";
import { bars, heightMap, heightSurface, histogram, uncertaintyMap } from "../../kernel-lib/src/figure/index.js";
import { closedPath } from "../../kernel-lib/src/figure/still/svg.js";
import { clubTable, scatteredTable } from "./club-table.js";
import { liveWords, stillWords } from "./words.js";

const cautions = [
  { title: "before any bolt of the head is loosened", lines: ["Lower the head onto a block.", "One bolt at a time."] },
];
const options = { cautions, notes: ["open sheet", "<b>as typed</b> & kept"] };
const table = clubTable();
const holed = clubTable({ places: table.places.filter(({ label }) => label !== "C4" && label !== "F1") });
const shares = [
  { label: "gauge, certificate", value: 61, text: "61 %" },
  { label: "repeats of a place", value: 39, text: "39 %" },
];

const figures: { readonly [name: string]: Figure } = {
  "surface on a grid": heightSurface(table, options),
  "surface of scattered places": heightSurface(scatteredTable(), options),
  "map on a grid": heightMap(table, options),
  "map with blanks": heightMap(holed, options),
  "map of scattered places": heightMap(scatteredTable(), {
    ...options,
    outlines: [
      {
        name: "what the cutter reaches",
        cornersMm: [
          [-20, -20],
          [1000, -20],
          [1000, 270],
          [-20, 270],
        ],
      },
    ],
  }),
  "map of uncertainty": uncertaintyMap(
    table,
    table.places.map(() => 1.2),
    options,
  ),
  histogram: histogram({
    title: "simulated values",
    axis: "growth/µm",
    heightAxis: "trials in a bar/%",
    from: 10,
    to: 14,
    heights: [10, 30, 40, 20],
    curve: {
      label: "first order: t law about y",
      points: [
        [9, 2],
        [12, 38],
        [15, 2],
      ],
    },
    intervals: [
      { label: "95 %, shortest", from: 10.2, to: 13.8, text: "10.2 µm to 13.8 µm" },
      { label: "95 %, first order: y ± U", from: 8.9, to: 15.1, text: "8.9 µm to 15.1 µm", ofCurve: true },
    ],
    ...options,
  }),
  bars: bars({ title: "where it comes from", axis: "share of the variance/%", rows: shares, ...options }),
};

describe.each(Object.entries(figures))("%s", (_, figure) => {
  it("says the same words live and still", () => {
    const { texts } = figure;
    const wanted = [texts.title, texts.subtitle, ...texts.axes, ...texts.edges, ...texts.lines, ...texts.marked];
    for (const words of [liveWords(figure), stillWords(figure)]) {
      for (const text of wanted) expect(words).toContain(text.replace(/\s+/g, " "));
    }
  });

  it("carries the caution and the limits", () => {
    expect(figure.texts.lines[0]).toBe(
      "Caution: before any bolt of the head is loosened. Lower the head onto a block. One bolt at a time.",
    );
    expect(figure.texts.lines).toContain("open sheet");
  });

  it("holds no number that is none and is one piece of SVG", () => {
    expect(figure.still).not.toMatch(/NaN|Infinity|undefined/);
    expect(JSON.stringify(figure.layout)).not.toContain("null");
    expect(figure.still.startsWith("<svg ") && figure.still.endsWith("</svg>")).toBe(true);
  });
});

describe("a surface", () => {
  it("draws the skin alone where places are too many to be told apart, says so, and keeps their words", () => {
    const places = Array.from({ length: 900 }, (_, k) => {
      const [i, j] = [k % 30, Math.floor(k / 30)];
      return { label: `P${k + 1}`, xMm: 10 * i, yMm: 8 * j, zUm: (i - 15) ** 2 / 20 - j / 3, count: 1 };
    });
    const dense = heightSurface(clubTable({ places }), options);
    expect(dense.data.map(({ type, mode }) => [type, mode].join(" ").trim())).toEqual(["surface", "scatter3d lines"]);
    expect((dense.data[0] as unknown as { text: string[][] }).text.flat()).toHaveLength(900);
    expect(dense.still).not.toContain("<circle");
    expect(dense.still.length).toBeLessThan(900 * 250);
    const note = "900 places: the skin over them is drawn, not each of them";
    expect(dense.texts.lines).toContain(note);
    expect(stillWords(dense)).toContain(note);
    expect(heightSurface(table).data.map(({ mode }) => mode)).toContain("markers");
  });

  it("is drawn with exactly the stated exaggeration", () => {
    const figure = heightSurface(table);
    const scene = figure.layout.scene as JsonObject;
    const [x, z] = [scene.xaxis as JsonObject, scene.zaxis as JsonObject].map(({ range }) => range as number[]);
    const aspect = scene.aspectratio as { x: number; z: number };
    const perMm = aspect.x / (x![1]! - x![0]!);
    const drawnPerMm = aspect.z / ((z![1]! - z![0]!) / 1000);
    expect(figure.texts.exaggeration).toBe("heights × 5000");
    expect(drawnPerMm / perMm).toBeCloseTo(5000, 6);
  });

  it("keeps scale and exaggeration when the limit is given, so that before and after compare", () => {
    const flatter = clubTable({ places: table.places.map((place) => ({ ...place, zUm: place.zUm / 4 })) });
    const [before, after] = [table, flatter].map((surface) => heightSurface(surface, { limitUm: 40 }));
    expect(after!.texts.exaggeration).toBe(before!.texts.exaggeration);
    expect((after!.layout.scene as JsonObject).zaxis).toEqual((before!.layout.scene as JsonObject).zaxis);
  });

  it("names its reference and its frame in the subtitle", () => {
    const heightsUm = table.places.map(({ zUm }) => zUm - 2);
    const figure = heightSurface(table, { residuals: { heightsUm, reference: "above the least-squares plane" } });
    expect(figure.texts.subtitle).toBe(
      "heights above the least-squares plane, against the machine's own travel; heights × 5000",
    );
  });
});

describe("a map", () => {
  it("puts FRONT below and mirrors a sheet that counts table motion", () => {
    const frame = { relativeTo: "travel", front: "y-", plusX: "left", plusY: "back" } as const;
    const [plain, turned] = [table, clubTable({ frame })].map((surface) => heightMap(surface).data[0]!);
    expect(turned!.x).toEqual([...(plain!.x as number[])].reverse().map((x) => 0 - x));
    const rows = (data: JsonObject): number[][] => data.z as number[][];
    expect(rows(turned!)[0]).toEqual([...rows(plain!)[0]!].reverse());
  });

  it("draws a straight slope with its lines where they belong, up to the rim", () => {
    // z = x/10 µm over 0 … 100 mm, limit 10: the level 2 µm stands at x = 20 mm, in the box from −4.5 to 104.5 mm
    const places = [0, 50, 100].flatMap((yMm) =>
      [0, 50, 100].map((xMm) => ({ label: `${xMm} ${yMm}`, xMm, yMm, zUm: xMm / 10, count: 1 })),
    );
    const figure = heightMap(clubTable({ places }));
    const [u0, u1] = (figure.layout.xaxis as { range: number[] }).range;
    const paths = [...figure.still.matchAll(/<path d="([^"]*)" fill="rgb/g)].map(([, d]) => d!);
    const lefts = paths.map((d) => Math.min(...[...d.matchAll(/[ML](-?[\d.]+),/g)].map(([, x]) => Number(x))));
    const found = lefts.map((x) => u0! + ((x - 78) / 450) * (u1! - u0!));
    // levels below zero take in everything and start left of the rim
    const inside = found.filter((x) => x > 1);
    expect(inside.map((x) => Math.round(x))).toEqual([20, 40, 60, 80]);
  });

  it("names the frame when its directions contradict each other", () => {
    const frame = { relativeTo: "travel", front: "y-", plusX: "right", plusY: "front" } as const;
    expect(() => heightMap(clubTable({ frame }))).toThrow(
      "figure of Club mill table, before: FRONT is y-, +X points right and +Y points front; with this FRONT +Y points " +
        "back and the other axis right or left; check the sheet at the machine",
    );
  });

  it("refuses a height that is no number, a wrong count and too few places", () => {
    const heightsUm = table.places.map((_, i) => (i === 3 ? Number.NaN : 0));
    expect(() => heightMap(table, { residuals: { heightsUm, reference: "above zero" } })).toThrow(
      "figure of Club mill table, before, place A4: x 210 mm, y 0 mm, value NaN; all three must be numbers",
    );
    expect(() => uncertaintyMap(table, [1, 2])).toThrow(
      "figure of Club mill table, before: 2 values for 90 places; give one a place",
    );
    expect(() => heightMap(clubTable({ places: table.places.slice(0, 2) }))).toThrow(
      "figure of Club mill table, before: 2 places; a surface needs three that are not on one line",
    );
  });

  it.each([0, 1e-16])("draws a table without any unevenness, neutral live and still (heights of %d µm)", (zUm) => {
    const flat = clubTable({ places: table.places.map((place, i) => ({ ...place, zUm: i % 2 === 0 ? zUm : -zUm })) });
    const map = heightMap(flat);
    expect(map.still).not.toContain("NaN");
    // the one band that is painted has the colour of zero, which the first warm band has not
    const filled = [...map.still.matchAll(/<path d="[^"]+" fill="(rgb[^"]+)"/g)].map(([, fill]) => fill);
    expect(filled.at(-1)).toBe(colourAt(heightScale, 0.5));
    const { contours, zmin, zmax } = map.data[0] as unknown as {
      readonly contours: { readonly start: number; readonly size: number };
      readonly zmin: number;
      readonly zmax: number;
    };
    expect(zmin).toBe(-zmax);
    // halves of a band on either side of zero
    expect((((-contours.start / contours.size) % 1) + 1) % 1).toBeCloseTo(0.5, 9);
    expect(heightSurface(flat).still).not.toContain("NaN");
  });
});

describe("bars", () => {
  it("say their figures under their names where a limit would cross them, and beside the bar where none does", () => {
    const rows = [{ label: "leave it", value: 2, low: 1, high: 3, text: "2.0 µm (1.0 to 3.0)" }];
    const limited = bars({ title: "options", axis: "flatness/µm", rows, limit: { at: 4, text: "tolerance 4 µm" } });
    const plain = bars({ title: "options", axis: "flatness/µm", rows });
    const ticks = ({ layout }: Figure) => (layout.yaxis as { ticktext: string[] }).ticktext;
    expect(ticks(limited)).toEqual(["leave it<br>2.0 µm (1.0 to 3.0)"]);
    expect(ticks(plain)).toEqual(["leave it"]);
    expect([limited.data.length, plain.data.length]).toEqual([1, 2]);
    // every word of the still picture that says the figure ends left of the axis
    const said = [...limited.still.matchAll(/<text x="([\d.]+)"[^>]*text-anchor="end">2\.0 µm/g)];
    expect(said.map(([, x]) => Number(x))).toEqual([198]);
  });

  it("keep the words of a limit at the right inside the picture", () => {
    const rows = [{ label: "leave it", value: 2, text: "2 µm" }];
    const at = (limit: number) => bars({ title: "o", axis: "f/µm", rows, limit: { at: limit, text: "tolerance" } });
    expect(at(9.9).still).toMatch(/text-anchor="end">tolerance/);
    expect(at(1).still).toMatch(/text-anchor="middle">tolerance/);
  });

  it("refuse a value below zero and an empty list", () => {
    expect(() =>
      bars({ title: "shares", axis: "share/%", rows: [{ label: "gauge", value: -1, text: "−1 %" }] }),
    ).toThrow("figure shares, bar gauge: -1; give a number not below zero");
    expect(() => bars({ title: "shares", axis: "share/%", rows: [] })).toThrow(
      "figure shares: no bar to draw; give at least one row",
    );
  });
});

it("the same figure has the same id, another one another", () => {
  expect(heightMap(clubTable()).id).toBe(heightMap(clubTable()).id);
  expect(heightMap(clubTable()).id).not.toBe(heightMap(clubTable({ name: "after" })).id);
});

it("leaves out of a path only what lies straight between its neighbours", () => {
  expect(
    closedPath([
      [0, 0],
      [5, 0],
      [9, 0],
      [9, 4],
      [9.02, 7],
      [3, 7],
      [6, 7],
      [0, 7],
    ]),
  ).toBe("M0,0L9,0L9,7L3,7L6,7L0,7Z");
});

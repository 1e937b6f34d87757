import { describe, expect, it } from "vitest";
import type { JsonObject } from "../../kernel-lib/src/figure/index.js";
import { figure, form, um } from "../../kernel-lib/src/index.js";
import { liveWords, stillWords } from "./words.js";

const survey = form.readLevels("data/levels-table.csv");
const network = form.levelNetwork(survey);
const drawn = figure.levelNetwork(network);
const oneWay = survey.readings.filter(({ to, from }, i) => {
  const first = survey.readings.findIndex((r) => [r.from, r.to].sort().join() === [from, to].sort().join());
  return i === first;
});
const blind = figure.levelNetwork(form.levelNetwork({ ...survey, readings: oneWay, tilt: "not wanted" }));

describe("the picture of a level network", () => {
  it.each([
    ["table", drawn],
    ["read one way", blind],
  ])("says the same words live and still: %s", (_, made) => {
    const { title, subtitle, axes, edges, lines, marked } = made.texts;
    for (const text of [title, subtitle, ...axes, ...edges, ...lines, ...marked]) {
      expect(liveWords(made)).toContain(text);
      expect(stillWords(made)).toContain(text);
    }
    expect(`${JSON.stringify([made.data, made.layout])}${made.still}`).not.toMatch(/NaN|Infinity|undefined/);
  });

  it("draws the step whose reading stands out, dots those that can't be checked", () => {
    const off = network.suspects[0]!.off!.in("um/m").toFixed(0);
    expect(drawn.texts.marked).toContain(`off by ${off} µm/m`);
    const thick = drawn.data.find((trace) => (trace.line as JsonObject | undefined)?.width === 4)!;
    expect(thick.x).toEqual([260, 340, null]);
    expect(drawn.still).not.toContain("stroke-dasharray");
    const dotted = blind.data.find((trace) => (trace.line as JsonObject | undefined)?.dash === "dot")!;
    expect((dotted.x as unknown[]).length).toBeGreaterThan(0);
    expect(blind.still).toContain('stroke-dasharray="1.5 3.5"');
    expect(blind.texts.lines.join()).toContain("can't be checked");
  });

  it("has a height at every place and a closure in every loop, where FRONT is below", () => {
    const heights = network.deviationsUm.map((z) => z.toFixed(1).replace("-", "−").replace("−0.0", "0.0"));
    for (const text of heights) expect(drawn.texts.marked).toContain(text);
    expect(drawn.texts.marked.filter((text) => text.startsWith("("))).toHaveLength(12);
    const turned = figure.levelNetwork(
      form.levelNetwork({ ...survey, frame: { ...survey.frame, front: "y+", plusX: "left", plusY: "front" } }),
    );
    const places = turned.data.at(-1)!;
    expect([Math.min(...(places.x as number[])), Math.min(...(places.y as number[]))]).toEqual([-500, -170]);
  });

  it("gives two networks one scale of colours with the same limit", () => {
    const colours = (limitUm: number) =>
      (figure.levelNetwork(network, { limitUm }).data.at(-1)!.marker as JsonObject).color;
    expect(colours(10)).not.toEqual(colours(20));
  });

  it("draws a single line as a strip, each stem as long as its place is doubtful", () => {
    const row = survey.places.filter(({ yMm }) => yMm === 20);
    const line = form.levelNetwork({
      ...survey,
      places: row,
      readings: survey.readings.filter((r) => r.line === "row 20"),
    });
    const strip = figure.levelNetwork(line);
    const profile = strip.data.at(-1)!;
    expect(profile.x).toEqual([0, 80, 160, 240, 320, 400, 480]);
    const stems = (profile.error_y as JsonObject).array as number[];
    for (const [i, { label }] of row.entries()) {
      expect(stems[i]).toBeCloseTo(line.deviation(label).expandedUncertainty().in("um"), 9);
    }
    expect(strip.texts.lines).toContain("no loop is closed: a line has none");
  });
});

it("a swept circle has each place once, its figure outside the circle", () => {
  const made = figure.tramCircle(form.spindleTram(form.readSweep("data/sweep-head.csv")));
  const places = made.data[1]!;
  expect(places.textposition).toEqual([
    ...["middle right", "top right", "top center", "top left"],
    ...["middle left", "bottom left", "bottom center", "bottom right"],
  ]);
  // text of the still picture: no figure's box comes within 2 px of the circle of 8 places
  const dots = [...made.still.matchAll(/<circle cx="([\d.]+)" cy="([\d.]+)"/g)].map(
    ([, x, y]) => [Number(x), Number(y)] as const,
  );
  const [cx, cy] = [0, 1].map((k) => dots.reduce((s, dot) => s + dot[k as 0 | 1], 0) / dots.length) as [number, number];
  const radius = Math.hypot(dots[0]![0] - cx, dots[0]![1] - cy);
  const figures = [
    ...made.still.matchAll(
      /<text x="([\d.]+)" y="([\d.]+)" font-size="10"(?![^>]*aria-hidden)[^>]*text-anchor="(\w+)"[^>]*>([^<]*)</g,
    ),
  ];
  expect(figures).toHaveLength(8);
  for (const [, x, y, anchor, text] of figures) {
    const wide = 5.6 * text!.length;
    const left = Number(x) - (anchor === "end" ? wide : anchor === "middle" ? wide / 2 : 0);
    const corners = [left, left + wide].flatMap((u) =>
      [Number(y) - 8, Number(y)].map((v) => Math.hypot(u - cx, v - cy)),
    );
    expect(Math.min(...corners), text).toBeGreaterThan(radius);
  }
});

it("a shim sheet carries its cautions, the foils of each stack and what remains", () => {
  const { lean } = form.spindleTram(form.readSweep("data/sweep-head.csv"));
  const bolts = [0, 200].flatMap((x) =>
    [0, 250].map((y) => ({ label: `${x}/${y}`, x: um(x * 1000), y: um(y * 1000) })),
  );
  const sheet = form.shims({
    name: "head",
    what: "column",
    tilt: { as: "lean", ...lean },
    bolts,
    foils: [um(10), um(5)],
    worth: um(0),
  });
  const { lines, subtitle, marked } = figure.shimPlan(sheet).texts;
  expect(lines[0]).toMatch(/^Caution: before a bolt of the column is loosened\. .*second competent person/);
  expect(lines.filter((line) => line.startsWith("foils at bolt"))).toHaveLength(
    sheet.stacks.filter(({ foils }) => foils.length > 1).length,
  );
  expect(subtitle).toContain(`lean that remains along X ${sheet.remaining.x.text("um/m")}`);
  expect(marked).toContain("0/0: none");
});

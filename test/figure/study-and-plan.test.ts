import { describe, expect, it } from "vitest";
import { figure, survey, um } from "../../kernel-lib/src/index.js";
import { aPlan } from "../display/a-plan.js";

const heights = [
  [3, 4, 3, 5, 4, 4],
  [-6, -6, -5, -6, -4, -5],
  [11, 10, 11, 12, 13, 12],
  [0, 1, 0, 2, 1, 1],
];
const study = survey.gaugeStudy({
  name: "dial on four places",
  readings: heights.flatMap((list, i) =>
    list.map((h, k) => ({ part: `A${i + 1}`, operator: ["Sat", "Sun", "Mon"][k >> 1]!, value: um(h) })),
  ),
  tolerance: um(20),
  partsAre: "places",
  operatorsAre: "days",
});

const figures = {
  "the components of a study": figure.studyBars(study),
  "the readings of a study": figure.studyReadings(study),
  "the plan of a survey": figure.planMap(aPlan()),
};

describe.each(Object.entries(figures))("%s", (_name, made) => {
  const live = JSON.stringify([made.data, made.layout]);

  it("says the same words live and still", () => {
    const { title, axes, edges, marked, lines } = made.texts;
    for (const word of [title, ...axes, ...edges, ...marked]) {
      expect(made.still).toContain(`>${word}</text>`);
      expect(live).toContain(word);
    }
    // longer lines are broken, so each is looked for by its beginning
    for (const line of lines) {
      const start = line.slice(0, 30).replaceAll("'", "&#39;");
      expect(made.still).toContain(start);
      expect(live).toContain(line.slice(0, 30));
    }
  });

  it("has an id of its content and holds no number that is none", () => {
    expect(made.id).toMatch(/^[0-9a-f]{16}$/);
    expect(`${live}${made.still}`).not.toMatch(/NaN|Infinity|undefined/);
  });
});

it("draws every reading once, a sign for each day", () => {
  const made = figures["the readings of a study"];
  const drawn = made.data.filter((trace) => trace.mode === "markers").map((trace) => (trace.y as number[]).length);
  expect(drawn).toEqual([8, 8, 8]);
  expect(made.texts.subtitle).toBe("day: ● Sat, ■ Sun, ▲ Mon; lines join the means");
});

it("draws places where the operator at FRONT sees them", () => {
  const turned = aPlan({ frame: { relativeTo: "travel", front: "y+", plusX: "left", plusY: "front" } });
  const [first] = turned.places;
  const places = figure.planMap(turned).data[1]!;
  const [u, v] = [places.x as number[], places.y as number[]];
  // A1 is the place at the left front: least in both directions of the picture
  expect([u[0], v[0]]).toEqual([Math.min(...u), Math.min(...v)]);
  expect([u[0], v[0]]).toEqual([-first!.xMm, -first!.yMm]);
});

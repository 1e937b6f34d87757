import { expect, it } from "vitest";
import { holdDownPlan } from "../../kernel-lib/src/figure/index.js";
import { aHoldDown, aPlate, platePlan } from "../facing/a-plate.js";
import { liveWords, stillWords } from "./words.js";

const down = aHoldDown();

it("says the same words live and still, a number at each screw", () => {
  const figure = holdDownPlan(down);
  const { texts } = figure;
  expect(texts.marked).toEqual(down.plate.screws.map(({ label }) => label));
  for (const words of [liveWords(figure), stillWords(figure)]) {
    for (const text of [texts.title, texts.subtitle, ...texts.axes, ...texts.edges, ...texts.lines, ...texts.marked]) {
      expect(words).toContain(text);
    }
  }
});

it("turns with the frame of the table", () => {
  const [plain, turned] = [
    holdDownPlan(down),
    holdDownPlan(down, { relativeTo: "travel", front: "y-", plusX: "left", plusY: "back" }),
  ].map((figure) => figure.data[1]!.x as number[]);
  expect(turned).toEqual(plain!.map((x) => 0 - x));
});

it("has its names on paper of their own, above the dots, so that no line crosses them", () => {
  const { data, layout, still } = holdDownPlan(down);
  expect((data[1]!.text as string[]).join("")).toBe("");
  const names = (layout.annotations as readonly { text: string; bgcolor?: string; yshift?: number }[]).filter(
    ({ bgcolor }) => bgcolor !== undefined,
  );
  expect(names.map(({ text }) => text)).toEqual(down.plate.screws.map(({ label }) => label));
  expect(names.every(({ yshift }) => yshift === 4)).toBe(true);
  expect(still.match(/<text [^>]*fill="none"[^>]* stroke="#ffffff"/g)).toHaveLength(down.plate.screws.length);
});

it("takes the frame in which the plate was laid out", () => {
  const frame = { relativeTo: "travel", front: "y-", plusX: "left", plusY: "back" } as const;
  const turned = holdDownPlan(aHoldDown({ plate: aPlate({ ...platePlan(), frame }) }));
  expect(turned.data[1]!.x).toEqual(holdDownPlan(down, frame).data[1]!.x);
});

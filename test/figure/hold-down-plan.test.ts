import { expect, it } from "vitest";
import { holdDownPlan } from "../../kernel-lib/src/figure/index.js";
import { aHoldDown } from "../facing/a-plate.js";
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

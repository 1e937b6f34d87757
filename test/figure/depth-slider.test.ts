import { expect, it } from "vitest";
import { depth } from "../../kernel-lib/src/facing/index.js";
import { depthSlider } from "../../kernel-lib/src/figure/index.js";
import { mm } from "../../kernel-lib/src/quantity/index.js";
import { aMap } from "../facing/a-map.js";
import { liveWords, stillWords } from "./words.js";

interface Slider {
  readonly active: number;
  readonly steps: readonly {
    readonly label: string;
    readonly args: readonly [{ readonly visible: readonly boolean[] }];
  }[];
}
const plan = (height: number) =>
  depth(
    aMap((x) => (height * (x - 20)) / 480, { noiseUm: 0.5, gaugeUm: 1 }),
    { draws: 100, thickness: mm(25) },
  );
const figure = depthSlider(plan(48));
const slider = (figure.layout.sliders as unknown as readonly Slider[])[0]!;

it("has at most 20 steps, whatever the size of the cut", () => {
  for (const height of [0.1, 1, 7, 19, 48, 99, 333, 2000]) {
    const { steps } = (depthSlider(plan(height)).layout.sliders as unknown as readonly Slider[])[0]!;
    expect(steps.length).toBeGreaterThan(3);
    expect(steps.length).toBeLessThanOrEqual(20);
  }
});

it("shows one picture a step, and first the one that is sure to clean up all of it", () => {
  const perStep = figure.data.length / slider.steps.length;
  expect(Number.isInteger(perStep)).toBe(true);
  for (const [i, { args }] of slider.steps.entries()) {
    expect(args[0].visible.flatMap((seen, k) => (seen ? [Math.floor(k / perStep)] : []))).toEqual(
      Array.from({ length: perStep }, () => i),
    );
  }
  const depthOf = (label: string) => Number(label.split(" ")[0]);
  const sure = plan(48).cleansAll.sure.in("um");
  expect(depthOf(slider.steps[slider.active]!.label)).toBeGreaterThanOrEqual(sure);
  expect(depthOf(slider.steps[slider.active - 1]!.label)).toBeLessThan(sure);
});

it("gives area, chance, volume and thickness in every label", () => {
  for (const { label } of slider.steps) {
    expect(label).toMatch(
      /^[\d.]+ µm below first contact: \d+ % cleaned, chance of all (?:\d+|above 99|below 1) %, [\d.]+ cm³, 2[45]\.\d\d mm left$/,
    );
  }
});

it("says the same words live and still, the caution among them", () => {
  const { title, subtitle, axes, edges, lines, marked } = figure.texts;
  expect(lines[0]).toMatch(/^Caution: /);
  for (const words of [liveWords(figure), stillWords(figure)]) {
    for (const text of [title, subtitle, ...axes, ...edges, ...marked]) expect(words).toContain(text);
  }
});

import { expect, it } from "vitest";
import { referenceInputs, unsaidOf } from "../../kernel-lib/src/axis/length-reference.js";
import { degC, kelvin, mm, perKelvin, slope, um } from "../../kernel-lib/src/index.js";
import { refusal } from "../refusal.js";

const blocks = {
  name: "blocks",
  scaleLimit: slope(um(3), mm(300)),
  alignmentLimit: slope(mm(2), mm(1000)),
  temperature: degC(24),
  temperatureDifferenceLimit: kelvin(0.5),
  expansionDifferenceLimit: perKelvin(1e-6),
};
const lines = (reference: Parameters<typeof referenceInputs>[0]) =>
  referenceInputs(reference).map(({ label, source, distribution, estimate, uncertaintySi }) => ({
    ...{ label, source, distribution, estimate: estimate.si },
    // rectangular: half width = u √3
    half: uncertaintySi * Math.sqrt(3),
  }));

it("turns each limit of a reference into parts of the length", () => {
  const line = (label: string, half: number, source: string) => ({
    ...{ label, source, distribution: "rectangular", estimate: 0, half: expect.closeTo(half, 14) },
  });
  expect(lines(blocks)).toEqual([
    line("blocks, length", 10e-6, "certificate or grade of the reference, ±"),
    // 1 − cos φ = φ² / 2 for a small φ
    line("blocks, alignment", 0.002 ** 2 / 2, "out of line by up to 2 mm/m: the cosine error, taken as ±"),
    // steel 11.5 · 10⁻⁶/K, from memory
    line("blocks and screw, temperature", 5.75e-6, "± 0.5 K between them, steel 11.5 µm/(m·K)"),
    line("blocks and screw, expansion", 4e-6, "± 1 µm/(m·K) between them, 4.0 K away from 20 °C"),
  ]);
  const cold = lines({ ...blocks, temperature: degC(17) });
  expect(cold.at(-1)).toEqual(
    line("blocks and screw, expansion", 3e-6, "± 1 µm/(m·K) between them, 3.0 K away from 20 °C"),
  );
});

it("has no line for what is not said, nor for an expansion at 20 °C", () => {
  expect(lines({ name: "blocks" })).toEqual([]);
  const { temperature: _, ...untold } = blocks;
  const three = ["blocks, length", "blocks, alignment", "blocks and screw, temperature"];
  for (const reference of [untold, { ...blocks, temperature: degC(20) }]) {
    expect(lines(reference).map(({ label }) => label)).toEqual(three);
  }
});

it("names all that is in no uncertainty", () => {
  const said = (more: object) => unsaidOf({ ...blocks, ...more });
  const bare = { scaleLimit: undefined, alignmentLimit: undefined, temperature: undefined };
  const warm = "its temperature against that of the screw";
  expect(said({})).toEqual([]);
  expect(said(bare)).toEqual([
    `of blocks nothing is said about the error of its length, how well it lies in line, ${warm}: in no U here`,
  ]);
  for (const missing of ["temperature", "temperatureDifferenceLimit"]) {
    expect(said({ [missing]: undefined })).toEqual([`of blocks nothing is said about ${warm}: in no U here`]);
  }
  expect(said({ alignmentLimit: undefined })).toEqual([
    "of blocks nothing is said about how well it lies in line: in no U here",
  ]);
});

it("refuses a reference whose name is no text", () => {
  expect(refusal(() => referenceInputs({ ...blocks, name: 7 as never }))).toEqual({
    code: "reference",
    message:
      "referenceInputs: the reference has no name; say what carries the length, such as gauge blocks or a glass scale",
  });
});

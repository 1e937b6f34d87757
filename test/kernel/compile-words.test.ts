import { expect, it } from "vitest";
import { plainNames, tradeWords } from "../../kernel-lib/src/kernel/compile-words.js";

const cases: readonly (readonly [compiler: string, shop: string])[] = [
  [
    `Argument of type 'Temperature' is not assignable to parameter of type 'Quantity<"length">'.`,
    "a temperature (°C) was given where a length (mm) is needed",
  ],
  [
    "Argument of type 'number' is not assignable to parameter of type 'Length'.",
    "a bare number was given where a length is needed; give it a unit, as in mm(0.02)",
  ],
  [
    `Argument of type 'Temperature' is not assignable to parameter of type 'Quantity<"temperature difference">'.`,
    "a temperature (°C) was given where a temperature difference (K) is needed; a difference is written kelvin(2) or a.minus(b)",
  ],
  [
    `Argument of type '"degC"' is not assignable to parameter of type '"m" | "mm" | "um" | "nm" | "in" | "thou" | "tenth"'.`,
    '"degC" is not a unit of a length; use one of mm, um, m, nm, in, thou, tenth',
  ],
  [
    `Argument of type 'Temperature' is not assignable to parameter of type 'number | Quantity<"number" | "length" | "area">'.`,
    "a temperature (°C) was given where a plain number, a length (mm) or an area (mm²) is needed",
  ],
  [
    `Operator '+' cannot be applied to types 'import("/a/dist/index").Length' and 'import("/a/dist/index").Length'.`,
    "+ does not work on a length and a length; write .plus, .minus, .times or .over, which keep the unit",
  ],
  [
    "Operator '+' cannot be applied to types 'Length' and 'number'.",
    "+ does not work on a length and a bare number; write .plus, .minus, .times or .over, which keep the unit",
  ],
  [
    "Operator '<' cannot be applied to types 'Length' and 'Temperature'.",
    "a length can't be compared with a temperature by <; compare two of one kind with .isLess or .equals",
  ],
  [
    "The left-hand side of an arithmetic operation must be of type 'any', 'number', 'bigint' or an enum type.",
    "what stands left of the sign is not a bare number; for a quantity write .minus, .times or .over, which keep the unit",
  ],
  [
    `Argument of type 'ThermalDrift' is not assignable to parameter of type 'Quantity<"length">'.`,
    "a thermal drift (µm/K) was given where a length (mm) is needed",
  ],
  [
    `Argument of type 'Length' is not assignable to parameter of type 'Quantity<"thermal drift">'.`,
    "a length (mm) was given where a thermal drift (µm/K) is needed",
  ],
  [
    "Type 'Temperature' is not assignable to type 'Length'.",
    "a temperature (°C) was given where a length (mm) is needed",
  ],
];

it.each(cases)("puts %s in the words of the shop", (compiler, shop) => {
  expect(tradeWords([compiler])).toBe(shop);
});

it("leaves complaints about other things to the compiler", () => {
  for (const other of [
    "Cannot find name 'deep'.",
    "Type 'number' is not assignable to type 'string'.",
    "Argument of type 'Date' is not assignable to parameter of type 'RegExp'.",
    "Operator '+' cannot be applied to types 'number' and 'boolean'.",
    `Argument of type '"x"' is not assignable to parameter of type '"a" | "b"'.`,
  ]) {
    expect(tradeWords([other])).toBeUndefined();
  }
});

it("names packages instead of files of this machine", () => {
  const complaint = (path: string) => `Property 'x' does not exist on type 'typeof import("${path}")'.`;
  const named = (name: string) => `Property 'x' does not exist on type 'typeof "${name}"'.`;
  expect(plainNames("Property 'x' does not exist on type 'typeof index_d$7'.")).toBe(
    "Property 'x' does not exist on type 'typeof dialbook'.",
  );
  expect(plainNames(complaint("/home/jo/p/node_modules/danfojs-node/dist/index"))).toBe(named("danfojs-node"));
  expect(plainNames(complaint("/p/node_modules/a/node_modules/@b/c/index"))).toBe(named("@b/c"));
  expect(plainNames(complaint("/home/jo/p/kernel-lib/dist/index"))).toBe(named("dialbook"));
  expect(plainNames("name 'S' from external module \"C:/Users/jo/kernel-lib/dist/index\" but cannot be named.")).toBe(
    `name 'S' from external module "dialbook" but cannot be named.`,
  );
});

import { expect, it } from "vitest";
import { arcsec, facing, figure, form, heat, kelvin, mm, newton, proof, Quantity } from "../../kernel-lib/src/index.js";
import { clubTable } from "../figure/club-table.js";
import { refusal } from "../refusal.js";

const table = clubTable();
const line = (more: object) =>
  form.levelLine({
    name: "guide",
    base: mm(100),
    passes: [[arcsec(0), arcsec(3), arcsec(7)]],
    maximumPermissibleError: arcsec(1),
    resolution: arcsec(1),
    ...more,
  });
const between = form.surface(table);
const histogram = (more: object) =>
  figure.histogram({ title: "growth", axis: "a/µm", heightAxis: "b/%", from: 0, to: 1, heights: [1], ...more });
const plates = (name: string) => ({
  upper: { material: heat.ownMaterial({ name, expansion: heat.material("steel").expansion }), thickness: mm(20) },
  lower: { material: heat.material("grey iron"), thickness: mm(50) },
  ...{ length: mm(500), width: mm(200), warming: kelvin(3) },
});
const pair = (screws: number) =>
  heat.boltedPair({
    ...plates("x"),
    upper: { material: heat.material("steel"), thickness: mm(20) },
    joint: { preload: newton(9000), screws, friction: Quantity.fromSi("number", 0.15) },
  });
const names =
  "steel, grey iron, ductile iron, aluminium alloy, aluminium 6061, aluminium 7075, cast aluminium 356, cartridge brass, free-cutting brass, granite, 36 % nickel iron";

it.each<[act: () => unknown, sentence: string]>([
  [() => between.chanceAbove(10 as never), "chanceAbove: the limit is 10; give a length, such as um(10)"],
  [() => between.volumeAbove(10 as never), "volumeAbove: the level is 10; give a length, such as um(10)"],
  [() => between.nextPlaces(0), "nextPlaces: 0 places; give a whole number from 1 to 50"],
  [
    () => form.surface(table, { slots: [{ along: "z" as never, at: mm(75), width: mm(14) }] }),
    'surface: a slot runs along z; write "x" or "y"',
  ],
  [
    () => form.surface(table, { slots: [{ along: "x", at: 75 as never, width: mm(14) }] }),
    "surface: middle of a slot is 75; give a length, such as mm(40)",
  ],
  [() => histogram({ heights: [] }), "figure growth: no bar to draw; give at least one height"],
  [() => histogram({ to: 0 }), "figure growth: the bars run from 0 to 0; give a range with a width"],
  [() => histogram({ heights: [-1] }), "figure growth: a bar of -1; give heights not below zero"],
  [
    () => heat.boltedPair(plates("my bar")),
    "boltedPair: my bar has no modulus of elasticity in the table; state it with ownMaterial",
  ],
  [() => pair(1), "boltedPair: 1 screw; give how many screws hold the pair, 2 or more"],
  [
    () => heat.ownMaterial({ name: "bar", expansion: 11 as never }),
    'ownMaterial "bar": its expansion is 11; give an input, such as input.rectangular of perKelvin(11e-6) with its half-width',
  ],
  [
    () => heat.material("butter"),
    `material: "butter" is not in the table; take one of ${names}, or state its figures with ownMaterial`,
  ],
  [() => proof.trend([]), "proof.trend: 0 results show no trend; two are needed at least"],
  [
    () => facing.depth(table as never, { draws: 50 }),
    "facing.depth: 50 draws are too few for a 95 % interval; give 100 or more",
  ],
  [() => line({ base: mm(0) }), "straightness: the base of guide is 0 mm; give the distance of the feet"],
  [
    () => line({ passes: [[arcsec(0), 3 as never, arcsec(7)]] }),
    "straightness: step 2 of pass 1 of guide is 3; give an inclination, such as arcsec(3)",
  ],
  [
    () => form.surface({ ...table, noise: { ...table.noise, standardUncertaintyUm: 0 } }),
    "surface: the noise of Club mill table, before is 0 µm with 90 degrees of freedom; both must be greater than zero, repeat some places",
  ],
  [
    () => form.surface(table, { holes: [{ x: mm(70), y: mm(50), diameter: mm(20) }] }),
    "surface: 1 of 90 places of Club mill table, before lies where the table has no surface (B2 in a hole); leave this reading out, or correct the place or what is said of slots, holes and obstacles",
  ],
])("refuses with the whole sentence: %#", (act, sentence) => {
  expect(refusal(act).message).toBe(sentence);
});

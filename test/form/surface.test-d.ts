import { expectTypeOf, it } from "vitest";
import { type FittedSurface, surface } from "../../kernel-lib/src/form/index.js";
import { kelvin, type Length, mm, um } from "../../kernel-lib/src/quantity/index.js";
import type { Surface } from "../../kernel-lib/src/survey/surface.js";
import type { Measured } from "../../kernel-lib/src/uncertainty/index.js";

declare const map: Surface;
declare const found: FittedSurface;

it("takes lengths for places, limits and gaps, no bare numbers and nothing warm", () => {
  expectTypeOf(found.at({ x: mm(1), y: mm(2) })).toEqualTypeOf<Measured<"length">>();
  // @ts-expect-error a place in no unit
  found.at({ x: 1, y: 2 });
  // @ts-expect-error a place has two coordinates
  found.at({ x: mm(1) });
  found.chanceAbove(um(10));
  // @ts-expect-error a limit in no unit
  found.chanceAbove(10);
  // @ts-expect-error a temperature is no height
  found.chanceAbove(kelvin(20));
  // @ts-expect-error a width in no unit
  surface(map, { slots: [{ along: "x", at: mm(75), width: 14 }] });
});

it("gives a volume above a level, and lengths for differences", () => {
  expectTypeOf(found.volumeAbove(um(0))).toEqualTypeOf<Measured<"volume">>();
  expectTypeOf(found.difference({ x: mm(1), y: mm(2) }, { x: mm(3), y: mm(2) }).value).toEqualTypeOf<Length>();
});

it("knows its methods by name", () => {
  surface(map, { method: "thin-plate spline" });
  // @ts-expect-error no such method
  surface(map, { method: "nearest" });
});

it("is not changed once it is fitted", () => {
  // @ts-expect-error fields are fixed
  found.surface = map;
});

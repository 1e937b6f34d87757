import { assertType, expectTypeOf, it } from "vitest";
import * as q from "../../kernel-lib/src/quantity/index.js";

it("refuses to mix kinds before anything runs", () => {
  // @ts-expect-error a temperature is not a length
  q.mm(1).plus(q.degC(20));
  // @ts-expect-error a bare number is not a length
  q.mm(1).plus(1);
  // @ts-expect-error two temperatures cannot be added
  q.degC(20).plus(q.degC(18));
  // @ts-expect-error a length has no degrees
  q.mm(1).in("degC");
  // @ts-expect-error a length times a temperature means nothing
  q.mm(1).times(q.degC(20));
  // @ts-expect-error a length compares with a length only
  q.mm(1).isLess(q.kN(1));
  // @ts-expect-error a bare number is not a length
  assertType<q.Length>(12);
  // @ts-expect-error a temperature is not a length
  assertType<q.Length>(q.degC(20));
  // @ts-expect-error a temperature difference is not a temperature
  assertType<q.Temperature>(q.kelvin(2));
  // @ts-expect-error a temperature cannot be scaled
  q.degC(20).times(2);
  // @ts-expect-error quantities take no operators
  q.mm(1) + q.um(2);
  // @ts-expect-error quantities take no operators
  q.mm(1) * 2;
  // @ts-expect-error a sum that would lose the unit
  [q.mm(1), q.mm(2)].reduce((a, b) => a + b);
});

it("refuses lists that would lose a unit, and keeps the kind of those it takes", () => {
  // @ts-expect-error bare numbers have no unit to keep
  q.sum([1, 2]);
  // @ts-expect-error temperatures have no sum
  q.sum([q.degC(20), q.degC(21)]);
  // @ts-expect-error two kinds in one list
  q.mean([q.mm(1), q.kelvin(2)]);
  // @ts-expect-error quantities are not for the functions of plain numbers
  Math.max(q.mm(1), q.mm(2));
  // @ts-expect-error an uncertainty of a temperature is a difference
  q.degC(20).textTo(q.degC(1));
  // @ts-expect-error a system of units has two names
  q.mm(1).text("imperial");
  expectTypeOf(q.sum([q.mm(1), q.thou(2)])).toEqualTypeOf<q.Length>();
  expectTypeOf(q.mean([q.degC(20), q.degC(21)])).toEqualTypeOf<q.Temperature>();
  expectTypeOf(q.range([q.degC(20), q.degC(21)])).toEqualTypeOf<q.TemperatureDifference>();
  expectTypeOf(q.largest([q.kN(1)])).toEqualTypeOf<q.Force>();
});

it("keeps a drift per kelvin apart from lengths, temperatures and expansion coefficients", () => {
  expectTypeOf(q.umPerKelvin(2.5).times(q.kelvin(3))).toEqualTypeOf<q.Length>();
  expectTypeOf(q.kelvin(3).times(q.umPerKelvin(2.5))).toEqualTypeOf<q.Length>();
  expectTypeOf(q.mm(50).times(q.perKelvin(11.5e-6))).toEqualTypeOf<q.ThermalDrift>();
  expectTypeOf(q.perKelvin(11.5e-6).times(q.mm(50))).toEqualTypeOf<q.ThermalDrift>();
  expectTypeOf(q.um(10).over(q.kelvin(4))).toEqualTypeOf<q.ThermalDrift>();
  expectTypeOf(q.um(10).over(q.umPerKelvin(4))).toEqualTypeOf<q.TemperatureDifference>();
  expectTypeOf(q.umPerKelvin(4).over(q.mm(500))).toEqualTypeOf<q.ExpansionCoefficient>();
  expectTypeOf(q.umPerKelvin(4).over(q.perKelvin(8e-6))).toEqualTypeOf<q.Length>();
  // @ts-expect-error a drift per kelvin is no length until a temperature difference has gone in
  q.um(20).plus(q.umPerKelvin(2.5));
  // @ts-expect-error a temperature is a point: its difference to another one is needed
  q.umPerKelvin(2.5).times(q.degC(22));
  // @ts-expect-error nor does it go with a length
  q.umPerKelvin(2.5).times(q.mm(50));
  // @ts-expect-error an expansion coefficient is of each metre, a drift of the whole set-up
  q.umPerKelvin(2.5).plus(q.perKelvin(11.5e-6));
  // @ts-expect-error it is not read in µm
  q.umPerKelvin(2.5).in("um");
  // @ts-expect-error a bare number is no drift per kelvin
  assertType<q.ThermalDrift>(2.5);
});

it("knows the kind of a result", () => {
  expectTypeOf(q.mm(1).times(2)).toEqualTypeOf<q.Length>();
  expectTypeOf(q.mm(1).times(q.mm(2))).toEqualTypeOf<q.Area>();
  expectTypeOf(q.kN(1).times(q.mm(1))).toEqualTypeOf<q.Torque>();
  expectTypeOf(q.mm(1).over(q.mm(2))).toEqualTypeOf<q.PlainNumber>();
  expectTypeOf(q.degC(20).minus(q.degC(18))).toEqualTypeOf<q.TemperatureDifference>();
  expectTypeOf(q.degC(20).minus(q.kelvin(1))).toEqualTypeOf<q.Temperature>();
  expectTypeOf(q.mm(5).times(q.perKelvin(1e-5).times(q.kelvin(3)))).toEqualTypeOf<q.Length>();
});

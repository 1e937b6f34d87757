import { describe, expect, it } from "vitest";
import { form, gauge, um } from "../../kernel-lib/src/index.js";

const dial = ["gauge resolution: 1 µm", "gauge maximum permissible error: 2 µm"];
const sheetOf = (said: readonly string[], heading: string, rows: readonly string[]) =>
  [...said.map((one) => `# ${one}`), heading, ...rows].join("\n");
const refused = (act: () => unknown) => expect(act);

describe("the sheet of a sweep", () => {
  const said = [...dial, "radius: 3 in", "centre: 260, 132", "over: a ring", "title: head", "date: 2026-10-21"];
  const rows = ["0,10", "90,0", "180,-10", "270,0"];
  const of = (more: readonly string[] = rows, head = said, heading = "angle/deg,reading/um") =>
    form.parseSweep(sheetOf(head, heading, more));

  it("gives name, radius, place and readings in the units of the sheet", () => {
    const sweep = of(rows, said, "angle/°,reading/um,turn");
    expect([sweep.name, sweep.over, sweep.radius.in("mm"), sweep.centre?.y.in("mm")]).toEqual([
      "head",
      "a ring",
      76.2,
      132,
    ]);
    expect(sweep.readings.map(({ angle, reading }) => [angle.in("deg"), reading.in("um")])[2]).toEqual([180, -10]);
    expect(sweep.notes).toEqual(["date: 2026-10-21"]);
    expect(form.spindleTram(sweep).size.in("um/m")).toBeCloseTo(10000 / 76.2, 9);
  });

  it("takes the gauge from the code where the sheet does not say it", () => {
    const given = gauge({ resolution: um(1), maximumPermissibleError: um(2) });
    const text = sheetOf(["radius: 75 mm"], "angle/deg,reading/um", rows);
    expect(form.parseSweep(text, { gauge: given }).gauge.resolution.in("um")).toBe(1);
  });

  it("is refused in one sentence", () => {
    refused(() => of(rows, dial)).toThrow(
      'pasted sweep: the sheet does not say how far the stylus is from the axis of the spindle; write "# radius: 100 mm"',
    );
    refused(() => of(rows, [...dial, "radius: 0 mm"])).toThrow(
      'pasted sweep line 3: "# radius: 0 mm" is no distance; write one above zero',
    );
    refused(() => of(rows, [...dial, "radius: 75 mm", "centre: middle"])).toThrow(
      'pasted sweep line 4: "middle" is no place on the table; write "# centre: 260, 120", x and y in mm',
    );
    refused(() => of(["north,10"])).toThrow(
      'pasted sweep line 9, column angle/deg: "north" is not a number; type digits only, the unit stands in the heading',
    );
    refused(() => of(["0,"])).toThrow("pasted sweep line 9, column reading/um: is blank; every reading is needed");
    refused(() => of(rows, said, "angle/rad,reading/um")).toThrow(
      'the heading "angle/rad" has the unit "rad"; write angle/deg',
    );
    refused(() => of(rows, said, "reading/um")).toThrow(
      "pasted sweep: there is no column angle; write the heading angle/deg,reading/um",
    );
    refused(() => form.readSweep("data/no-such.csv")).toThrow("no-such.csv");
  });
});

describe("the sheet of a square", () => {
  const heading = "leg,way,at/mm,reading/um";
  const leg = (name: string, way: string, perM: number) =>
    [0, 100, 200].map((at) => `${name},${way},${at},${(perM * at) / 1000}`);
  const laid = [...leg("first", "as laid", 0), ...leg("second", "as laid", -35)];
  const over = [...leg("first", "turned over", 5), ...leg("Second", "Turned over", -10)];

  it("gives both legs both ways, or the square as given", () => {
    const both = form.squareness(form.parseSquare(sheetOf(dial, heading, [...laid, ...over])));
    expect([both.angle, both.square!].map((v) => v.in("um/m").toFixed(3))).toEqual(["25.000", "-10.000"]);
    const given = form.parseSquare(sheetOf([...dial, "square within: 2 arcsec"], heading, laid));
    expect(form.squareness(given).angle.in("um/m")).toBeCloseTo(35, 9);
  });

  it("is refused in one sentence", () => {
    refused(() => form.parseSquare(sheetOf(dial, heading, ["third,as laid,0,1"]))).toThrow(
      'pasted square line 4, column leg: "third" is no leg of a square; write first or second',
    );
    refused(() => form.parseSquare(sheetOf(dial, heading, ["first,mirrored,0,1"]))).toThrow(
      'pasted square line 4, column way: "mirrored" is no way of a square; write as laid or turned over',
    );
    refused(() => form.squareness(form.parseSquare(sheetOf(dial, heading, [...laid, ...over.slice(0, 3)])))).toThrow(
      "squareness: a leg of pasted square was read at 0 places; read three at least along each leg",
    );
    refused(() => form.readSquare("data/no-such.csv")).toThrow("no-such.csv");
  });
});

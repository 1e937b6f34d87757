import { describe, expect, it } from "vitest";
import { form, gauge, um } from "../../kernel-lib/src/index.js";
import { refusal } from "../refusal.js";

const above = (said: readonly string[]) => said.map((one) => `# ${one}`);
const frame = ["relative to: gravity", "front: y-", "+x: right", "+y: back"];
const level = ["level resolution: 2 um/m", "level maximum permissible error: 5 um/m"];
const refused = (act: () => unknown) => refusal(act);

describe("a level sheet by lines", () => {
  const head = [...frame, ...level, "foot: 100 mm", "line Front: -100, 20 to 100, 20 mm"];
  const rows = ["Front,2,as marked,5", "Front,1,As Marked,1", "Front,1,turned,-1", "Front,2,TURNED,2"];
  const of = (said: readonly string[] = head, body: readonly string[] = rows, unit = "um/m", options = {}) =>
    form.parseLevels([...above(said), `line,step,direction,reading/${unit}`, ...body].join("\n"), options);

  it("gives everything that it says, steps in their order", () => {
    const survey = of([
      ...head,
      "title: bed of the mill",
      "level: block level",
      "date: 2026-10-30",
      "level zero: A line",
    ]);
    expect(survey).toMatchObject({
      ...{ name: "bed of the mill", zero: "a line", file: undefined, notes: ["date: 2026-10-30"] },
      frame: { relativeTo: "gravity", front: "y-", plusX: "right", plusY: "back" },
      places: [
        { label: "(−100, 20)", xMm: -100, yMm: 20 },
        { label: "(0, 20)", xMm: 0, yMm: 20 },
        { label: "(100, 20)", xMm: 100, yMm: 20 },
      ],
    });
    expect(survey.instrument.name).toBe("block level");
    expect(survey.instrument.resolution.in("um/m")).toBe(2);
    expect(survey.instrument.maximumPermissibleError.in("um/m")).toBe(5);
    expect(survey.readings.map(({ from, to, inclination }) => [from, to, inclination.in("um/m")])).toEqual([
      ["(−100, 20)", "(0, 20)", 1],
      ["(0, 20)", "(100, 20)", 5],
      ["(0, 20)", "(−100, 20)", -1],
      ["(100, 20)", "(0, 20)", 2],
    ]);
    const bare = of(head, rows.slice(0, 2));
    expect(bare.name).toBe("pasted survey");
    expect("zero" in bare).toBe(false);
    expect("name" in bare.instrument).toBe(false);
    expect(bare.readings).toHaveLength(2);
    expect(of(head, rows, "um/m", { name: "club bed" }).name).toBe("club bed");
    for (const [said, zero] of [
      ["one", "one"],
      ["a line, drifting", "a line, drifting"],
    ]) {
      expect(of([...head, `level zero: ${said}`]).zero).toBe(zero);
    }
  });

  it("is refused in one sentence with its code", () => {
    const place = (line: number, column?: string) =>
      `pasted survey line ${line}${column ? `, column ${column}` : ""}: `;
    expect(refused(() => of(frame))).toEqual({
      code: "said",
      message: 'pasted survey: the sheet does not say its level resolution; write "# level resolution: 10 um/m"',
    });
    expect(refused(() => of([...frame, level[0]!])).message).toBe(
      'pasted survey: the sheet does not say its level maximum permissible error; write "# level maximum permissible error: 20 um/m"',
    );
    expect(refused(() => of(head.filter((one) => !one.startsWith("foot"))))).toEqual({
      code: "said",
      message: 'pasted survey: the sheet does not say its foot; write "# foot: 100 mm"',
    });
    expect(refused(() => of([...head, "foot of line Front: -1 mm"]))).toEqual({
      code: "foot",
      message: `${place(9)}a foot of −1 mm steps off no line; write the distance of the level's feet`,
    });
    expect(refused(() => of([...head, "level zero: two"])).code).toBe("zero");
    expect(refused(() => of(head, rows, "div")).code).toBe("division");
    for (const ends of [
      "0, 0 to 200",
      "0, 0, 200, 0",
      "a, 0 to 200, 0",
      "0, b to 200, 0",
      "0, 0 to c, 0",
      "0, 0 to 200, d",
      "x 0, 0 to 200, 0",
      "0, 0 to 200, 0 in",
    ]) {
      expect(refused(() => of([...head.slice(0, -1), `line Front: ${ends}`]))).toEqual({
        code: "line",
        message: `${place(8)}"${ends}" is not two ends of a line; write "# line Front: 0, 0 to 400, 0", x and y in mm`,
      });
    }
    for (const step of ["0", "3", "1.5", "x1", "1x", "-1", "12345"]) {
      expect(refused(() => of(head, [`Front,${step},as marked,1`]))).toEqual({
        code: "step",
        message: `${place(10, "step")}"${step}" is no step of line "Front"; number its steps from 1 to 2`,
      });
    }
    expect(refused(() => of(head, [...rows, rows[3]!]))).toEqual({
      code: "step-twice",
      message: `${place(14, "step")}step 2 of line "Front" is read turned twice; leave one of the two`,
    });
    expect(refused(() => of(head, rows.slice(0, 3)))).toEqual({
      code: "step-missing",
      message: 'pasted survey: step 2 of line "Front" is not read turned; read it',
    });
    expect(refused(() => of(head, ["Front,1,sideways,1"])).code).toBe("direction");
    expect(refused(() => of(head, [...rows, "Rear,1,turned,1"]))).toEqual({
      code: "line",
      message: `${place(14, "line")}the ends of line "Rear" are not said; write "# line Rear: 0, 0 to 400, 0" above the heading, x and y in mm`,
    });
    expect(
      refused(() => form.parseLevels([...above(head), "line,step,reading/um/m", "Front,1,1"].join("\n"))).message,
    ).toBe("pasted survey: there is no column direction; write the heading line,step,direction,reading/um/m");
  });
});

describe("a level sheet by places", () => {
  const head = [...frame, ...level, "place A1: 0, 0", "place A2: 30, 0 mm", "place B1: 30.5, -40"];
  const of = (body: readonly string[], said = head, heading = "from,to,reading/um/m") =>
    form.parseLevels([...above(said), heading, ...body].join("\n"));

  it("gives places and readings, the feet as far apart as the places", () => {
    const { places, readings } = of(["A1,A2,4", "B1,A2,-2.5"]);
    expect(places).toEqual([
      { label: "A1", xMm: 0, yMm: 0 },
      { label: "A2", xMm: 30, yMm: 0 },
      { label: "B1", xMm: 30.5, yMm: -40 },
    ]);
    expect(
      readings.map(({ line, from, to, inclination, foot }) => [
        line,
        from,
        to,
        inclination.in("um/m"),
        foot.in("mm").toFixed(6),
      ]),
    ).toEqual([
      ["all", "A1", "A2", 4, "30.000000"],
      ["all", "B1", "A2", -2.5, Math.hypot(0.5, 40).toFixed(6)],
    ]);
    const inSeconds = of(["A1,A2,1"], head, "from,to,reading/arcsec").readings[0]!;
    expect(inSeconds.inclination.in("um/m")).toBeCloseTo(4.848_136_8, 6);
  });

  it("is refused in one sentence with its code", () => {
    const at = (column: string) => `pasted survey line 11, column ${column}: `;
    expect(refused(() => of(["C1,A2,1"]))).toEqual({
      code: "place",
      message: `${at("from")}"C1" is no place of the sheet; write "# place C1: 0, 0" above the heading, x and y in mm`,
    });
    expect(refused(() => of(["A1,,1"])).message).toBe(`${at("to")}is blank; write the place under that foot`);
    expect(refused(() => of(["A2,A2,1"]))).toEqual({
      code: "place",
      message: `${at("to")}both feet stand on A2; write the places under the two feet`,
    });
    for (const bad of ["place C1: 12", "place C1: a, 2", "place C1: 1, b", "place C1: 1 2, 3 in", "place C1: x 1, 2"]) {
      expect(refused(() => of(["A1,A2,1"], [...head, bad]))).toEqual({
        code: "place",
        message: `pasted survey line 10: "# ${bad}" is no place; write "# place A1: 0, 0", x and y in mm`,
      });
    }
    expect(refused(() => of(["A1,1"], head, "to,reading/um/m")).message).toBe(
      "pasted survey: there is no column from; write the heading from,to,reading/um/m",
    );
  });
});

describe("the sheet of a sweep", () => {
  const dial = ["gauge resolution: 1 um", "gauge maximum permissible error: 2 um"];
  const rows = ["0,10", "90,0", "180,-10", "270,0"];
  const of = (said: readonly string[], options = {}) =>
    form.parseSweep([...above(said), "angle/deg,reading/um", ...rows].join("\n"), options);

  it("gives what it says and nothing that it does not", () => {
    const bare = of([...dial, "radius: 75 mm"]);
    expect(Object.keys(bare).sort()).toEqual(["file", "gauge", "name", "notes", "radius", "readings"]);
    expect([bare.name, bare.notes, bare.file]).toEqual(["pasted sweep", [], undefined]);
    expect(
      bare.readings.map(({ angle, reading }) => [angle.in("deg").toFixed(6), reading.in("um").toFixed(6)]),
    ).toEqual([
      ["0.000000", "10.000000"],
      ["90.000000", "0.000000"],
      ["180.000000", "-10.000000"],
      ["270.000000", "0.000000"],
    ]);
    const full = of(
      [...dial, "radius: 75 mm", "radius within: 1 mm", "centre: 260.5, -120 mm", "over: ring", "workshop: club"],
      { name: "head sheet" },
    );
    expect([full.name, full.over, full.notes, full.radiusWithin?.in("mm")]).toEqual([
      "head sheet",
      "ring",
      ["workshop: club"],
      1,
    ]);
    expect([full.centre?.x.in("mm"), full.centre?.y.in("mm")]).toEqual([260.5, -120]);
    expect(full.gauge.maximumPermissibleError.in("um")).toBeCloseTo(2, 12);
  });

  it("is refused with its code", () => {
    expect(refused(() => of(dial)).code).toBe("said");
    expect(refused(() => of([...dial, "radius: 75 mm", "radius within: -1 mm"]))).toEqual({
      code: "radius",
      message: 'pasted sweep line 4: "# radius within: -1 mm" is no distance; write one above zero',
    });
    for (const centre of ["260", "a, 1", "1, b", "x 1, 2", "1, 2 in"]) {
      expect(refused(() => of([...dial, "radius: 75 mm", `centre: ${centre}`]))).toEqual({
        code: "centre",
        message: `pasted sweep line 4: "${centre}" is no place on the table; write "# centre: 260, 120", x and y in mm`,
      });
    }
  });
});

describe("the sheet of a square", () => {
  const dial = ["gauge resolution: 1 um", "gauge maximum permissible error: 2 um"];
  const row = (leg: string, way: string, at: number, z: number) => `${leg},${way},${at},${z}`;
  const laid = [row("first", "as laid", 0, 1), row("second", "as laid", 100, -2)];
  const of = (said: readonly string[], body: readonly string[], options = {}) =>
    form.parseSquare([...above(said), "leg,way,at/mm,reading/um", ...body].join("\n"), options);
  const plain = (leg: readonly { at: { in(u: "mm"): number }; reading: { in(u: "um"): number } }[]) =>
    leg.map(({ at, reading }) => [at.in("mm"), reading.in("um")].map((v) => Number(v.toFixed(6))));

  it("gives each leg each way, and nothing that it does not say", () => {
    const bare = of(dial, laid);
    expect(Object.keys(bare).sort()).toEqual(["file", "first", "gauge", "name", "notes", "second"]);
    expect([plain(bare.first), plain(bare.second), bare.name]).toEqual([[[0, 1]], [[100, -2]], "pasted square"]);
    const full = of(
      [...dial, "title: Y to X", "square within: 20 um/m", "date: 2026-10-30"],
      [...laid, row("FIRST", "Turned Over", 50, 3), row("second", "turned over", 60, 4)],
    );
    expect([full.name, full.notes]).toEqual(["Y to X", ["date: 2026-10-30"]]);
    expect([plain(full.turnedOver!.first), plain(full.turnedOver!.second)]).toEqual([[[50, 3]], [[60, 4]]]);
    expect((full.square as { within: { in(u: "um/m"): number } }).within.in("um/m")).toBeCloseTo(20, 9);
    expect(of(dial, [...laid, row("first", "turned over", 50, 3)]).turnedOver!.second).toEqual([]);
    expect(of(dial, [...laid, row("second", "turned over", 50, 3)]).turnedOver!.first).toEqual([]);
    const own = gauge({ resolution: um(1), maximumPermissibleError: um(7) });
    expect(of([], laid, { gauge: own, name: "square sheet" }).gauge.maximumPermissibleError.in("um")).toBeCloseTo(
      7,
      12,
    );
    expect(of([], laid, { gauge: own, name: "square sheet" }).name).toBe("square sheet");
  });

  it("is refused with its code", () => {
    expect(refused(() => of(dial, [row("third", "as laid", 0, 1)])).code).toBe("leg");
    expect(refused(() => of(dial, [row("first", "upside down", 0, 1)])).code).toBe("way");
    expect(
      refused(() => form.parseSquare([...above(dial), "leg,at/mm,reading/um", "first,0,1"].join("\n"))).message,
    ).toBe("pasted square: there is no column way; write the heading leg,way,at/mm,reading/um");
  });
});

it("sheets from the disk carry name and file, what the reader says instead wins", () => {
  const levels = form.readLevels("data/levels-plate.csv");
  expect(levels.file?.sha256).toMatch(/^[0-9a-f]{64}$/);
  expect(form.readSweep("data/sweep-head.csv").file?.sha256).toMatch(/^[0-9a-f]{64}$/);
  expect(form.readSquare("data/square-y-to-x.csv").file?.sha256).toMatch(/^[0-9a-f]{64}$/);
});

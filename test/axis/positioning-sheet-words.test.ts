import { describe, expect, it } from "vitest";
import { parsePositioning, readPositioning } from "../../kernel-lib/src/axis/positioning-sheet.js";
import { readSmallMoves } from "../../kernel-lib/src/axis/small-moves-sheet.js";
import { degC, gauge, minutes, mm, um } from "../../kernel-lib/src/index.js";
import { refusal } from "../refusal.js";
import { dial, plantedTest } from "./planted-test.js";

const preamble = [
  "# axis: y",
  "# gauge resolution: 1 µm",
  "# gauge maximum permissible error: 3 µm",
  "# reference: blocks",
];
const heading = "target/mm,direction,run,deviation/um";
const places = ["0,up", "40,up", "80,up", "80,down", "40,down", "0,down"];
const rows = [1, 2].flatMap((run) => places.map((place, i) => `${place},${run},${i}`));
const sheet = (body: readonly string[] = rows, columns = heading, more: readonly string[] = []) =>
  [...preamble, ...more, columns, ...body].join("\n");
const read = (text: string) => parsePositioning(text, { name: "y.csv" });

describe("a sheet", () => {
  it("has its name from its title, the file, or as pasted", () => {
    expect(read(sheet()).name).toBe("y.csv");
    expect(parsePositioning(sheet()).name).toBe("pasted test");
    expect(read(sheet(rows, heading, ["# title: Y of the club"])).name).toBe("Y of the club");
  });
  it("brings every line of the reference", () => {
    const { reference } = read(
      sheet(rows, heading, [
        "# reference scale limit: 10 µm/m",
        "# reference alignment limit: 1 mm/m",
        "# reference temperature: 68 °F",
        "# temperature difference limit: 0.5 K",
        "# expansion difference limit: 2 µm/(m·K)",
      ]),
    );
    expect(reference.name).toBe("blocks");
    expect(reference.scaleLimit!.si).toBeCloseTo(10e-6, 15);
    expect(reference.alignmentLimit!.si).toBeCloseTo(1e-3, 15);
    expect(reference.temperature!.in("degC")).toBeCloseTo(20, 9);
    expect(reference.temperatureDifferenceLimit!.in("K")).toBe(0.5);
    expect(reference.expansionDifferenceLimit!.si).toBeCloseTo(2e-6, 15);
    expect(read(sheet()).reference).toEqual({ name: "blocks" });
    expect(refusal(() => read(sheet(rows, heading, ["# temperature difference limit: 3 µm"]))).message).toContain(
      "temperature difference limit",
    );
  });
  it("proves the sense by a yes, and by nothing else", () => {
    const proven = (...lines: string[]) => read(sheet(rows, heading, lines)).senseProven;
    expect(proven("# sense proven: Yes, one move of 1 mm")).toBe(true);
    expect(proven("# sense proven: yesterday")).toBe(false);
    expect(proven("# sense proven: no, yes is what I hope")).toBe(false);
    expect(proven()).toBe(false);
  });
  it("keeps what it has no word for", () => {
    const made = read(sheet(rows, heading, ["# workshop: club", "# the vice was off"]));
    expect(made.notes).toEqual(["workshop: club", "the vice was off"]);
    expect([read(sheet()).notes, made.file, made.axis, made.vertical]).toEqual([[], undefined, "Y", false]);
  });
  it("takes the signs of the directions as well as their words", () => {
    for (const [up, down] of [
      ["+", "-"],
      ["↑", "−"],
      ["UP", "↓"],
      ["Up", "Down"],
    ] as const) {
      const signs = rows.map((row) => row.replace("up", up).replace("down", down));
      expect(
        read(sheet(signs))
          .deviations(1, "down")
          .map((d) => d.in("um")),
      ).toEqual([4, 4]);
    }
  });
  it("numbers the runs from 1 to 9999", () => {
    const second = (run: string) => rows.map((row, i) => (i < 6 ? row : row.replace(",2,", `,${run},`)));
    expect(read(sheet(second("9999"))).runs).toBe(2);
    for (const run of ["0", "10000", "1.5", "x1", "2b"]) {
      expect(refusal(() => read(sheet(second(run))))).toEqual({
        code: "run",
        message: `y.csv line 12, column run: "${run}" is no run; number the runs from 1`,
      });
    }
  });
  it("takes time, temperature and the length of the blocks where they are written", () => {
    const text = sheet(
      rows.map(
        (row, i) => `${row},${i === 2 ? "" : "1.5"},${i === 0 ? "09:30" : `10:${10 + i}`},${i === 1 ? "" : "18.5"}`,
      ),
      `${heading},reference/um,time,temperature/degC`,
    );
    const { readings } = read(text);
    expect(readings[0]).toEqual({
      ...readings[0],
      targetMm: 0,
      direction: "up",
      run: 1,
      deviationUm: 1.5,
      celsius: 18.5,
    });
    expect(readings[3]!.minutes! - readings[0]!.minutes!).toBeCloseTo(43, 9);
    expect(readings[1]).not.toHaveProperty("celsius");
    expect(readings[2]!.deviationUm).toBe(2);
    expect(read(sheet()).readings[0]).toEqual({ targetMm: 0, direction: "up", run: 1, deviationUm: 0 });
  });
  it("applies the cosine of the gauge to what it shows, not to a scale nor to the blocks", () => {
    const lever = ["# lever angle: 60°"];
    const factor = gauge({ resolution: um(1), maximumPermissibleError: um(3) });
    expect(factor.sense).not.toBe("minus");
    const turned = ["# positive: surface stands low"];
    const blocks = rows.map((row) => `${row},0.5`);
    const shown = read(sheet(blocks, `${heading},reference/um`, turned));
    expect(shown.deviations(1, "up")[0]!.in("um")).toBeCloseTo(-1 + 0.5, 9);
    const scale = rows.map((row) =>
      row.replace(/^(\d+),(.*),\d$/, (_, at, rest) => `${at},${rest},${Number(at) + 0.002}`),
    );
    const position = read(sheet(scale, "target/mm,direction,run,position/mm", turned));
    expect(position.deviations(1, "up")[0]!.in("um")).toBeCloseTo(2, 6);
    expect(lever).toHaveLength(1);
  });
  it("reads targets to the nanometre", () => {
    const tenth = rows.map((row) => row.replace(/^40/, "40.1234567"));
    expect(read(sheet(tenth)).targetsMm).toEqual([0, 40.123457, 80]);
  });
});

describe("a sheet is refused", () => {
  it("with neither deviation nor position, or both", () => {
    const bare = rows.map((row) => row.replace(/,\d$/, ""));
    expect(refusal(() => read(sheet(bare, "target/mm,direction,run")))).toEqual({
      code: "heading",
      message:
        "y.csv: there is no column of deviation or position; write the heading target/mm,direction,run,deviation/um,time,temperature/degC,note",
    });
    const both = rows.map((row) => `${row},1`);
    expect(refusal(() => read(sheet(both, `${heading},position/mm`))).message).toBe(
      "y.csv: there is a column of deviation and one of position; one says it all, leave one of the two",
    );
  });
  it("with positions in another unit than the targets, either way and by a thousand", () => {
    const scaled = (factor: number) =>
      refusal(() =>
        read(
          sheet(
            rows.map((row) => row.replace(/^(\d+),(.*),\d$/, (_, at, rest) => `${at},${rest},${Number(at) * factor}`)),
            "target/mm,direction,run,position/mm",
          ),
        ),
      );
    const message = (times: string) =>
      `y.csv: the positions are about ${times} times the targets: one column is in another unit than its heading says; correct the heading`;
    expect(scaled(25.4)).toEqual({ code: "mixed-units", message: message("25.4") });
    expect(scaled(25.6).message).toBe(message("25.4"));
    expect(scaled(1000).message).toBe(message("1000"));
    expect(scaled(0.001).message).toBe(message("0.001"));
  });
  it("and not with an axis that only goes far off its targets", () => {
    const off = (factor: number) =>
      read(
        sheet(
          rows.map((row) => row.replace(/^(\d+),(.*),\d$/, (_, at, rest) => `${at},${rest},${Number(at) * factor}`)),
          "target/mm,direction,run,position/mm",
        ),
      );
    for (const factor of [1, 1.01, 25, 25.8]) expect(off(factor).runs).toBe(2);
  });
  it("for an axis that is none, with the line on which it stands", () => {
    const wrong = sheet().replace("# axis: y", "# axis: A");
    expect(refusal(() => read(wrong))).toEqual({
      code: "axis",
      message: 'y.csv line 1: "# axis: A" is not understood; write "# axis: X"',
    });
  });
});

it("reads a file under its own name, which another may take the place of", () => {
  const test = readPositioning("data/positioning-x.csv");
  expect(test.file).toMatchObject({ name: "positioning-x.csv" });
  expect([test.axis, test.runs, test.senseProven]).toEqual(["X", 5, true]);
  expect(test.readings.every(({ minutes, celsius }) => minutes !== undefined && celsius !== undefined)).toBe(true);
  expect(readSmallMoves("data/ladder-x.csv").file).toMatchObject({ name: "ladder-x.csv" });
});

describe("a test of readings", () => {
  const found = plantedTest([-5, 20, 100.5], [1, 2], (at, direction) => at + (direction === "up" ? 0 : 3), {
    ...{ name: "Y of the club", axis: "Y", notes: ["vice off"], vertical: true, senseProven: true },
  });
  it("keeps what is given, and counts its own", () => {
    const { name, axis, vertical, senseProven, gauge: own, reference, notes, file, targetsMm, runs } = found;
    expect({ name, axis, vertical, senseProven, own, reference, notes, file, targetsMm, runs }).toEqual({
      ...{ name: "Y of the club", axis: "Y", vertical: true, senseProven: true, own: dial, notes: ["vice off"] },
      ...{ reference: { name: "blocks" }, file: undefined, targetsMm: [-5, 20, 100.5], runs: 2 },
    });
    expect(found.travel.in("mm")).toBe(105.5);
    expect(found.targetNumbers()).toEqual([0, 1, 2, 2, 1, 0, 0, 1, 2, 2, 1, 0]);
    expect(found.deviations(2, "down").map((one) => one.in("um"))).toEqual([103.5, 103.5]);
    expect(`${found}`).toBe("Y of the club: axis Y, 3 targets from −5 mm to 100.5 mm, 2 runs each way, against blocks");
  });
  it("takes time and temperature along, where they are given", () => {
    const one = { run: 1, direction: "up" as const, deviation: um(1) };
    const timed = plantedTest([0, 1], [1, 2], () => 0, {
      readings: [1, 2].flatMap((run) => [
        { ...one, run, target: mm(0), time: minutes(0), temperature: degC(20) },
        { ...one, run, target: mm(9), time: minutes(2) },
        { ...one, run, target: mm(9), direction: "down" as const, temperature: degC(0) },
        { ...one, run, target: mm(0), direction: "down" as const },
      ]),
    } as never);
    expect(timed.readings.slice(0, 4)).toEqual([
      { run: 1, direction: "up", targetMm: 0, deviationUm: 1, minutes: 0, celsius: 20 },
      { run: 1, direction: "up", targetMm: 9, deviationUm: 1, minutes: 2 },
      { run: 1, direction: "down", targetMm: 9, deviationUm: 1, celsius: 0 },
      { run: 1, direction: "down", targetMm: 0, deviationUm: 1 },
    ]);
  });
  it("looks for a missed turn as long as the gauge shows it, its cosine applied", () => {
    const lever = { resolution: um(1), maximumPermissibleError: um(3), rangePerTurn: um(200) };
    const jump = (by: number, more: object = {}) =>
      plantedTest(
        [0, 100],
        [1, 2, 3],
        (at, direction, run) => (at === 100 && direction === "up" && run === 2 ? by : 0),
        {
          gauge: gauge({ ...lever, ...more } as never),
        },
      );
    expect(refusal(() => jump(-200)).message).toBe(
      "positioning of X, reading 6: −200 µm at 100 mm, up, stands about one turn of the pointer (200 µm each) from 0 µm of another run; the small hand was missed in one of them: read it again, or write the whole reading",
    );
    expect(jump(100).runs).toBe(3);
    expect(refusal(() => jump(200, { sense: "minus" })).code).toBe("rolled-over");
  });
  it("is refused for a reading that is none, by its number and the name of the test", () => {
    const good = found.readings.map((one) => ({
      ...{ target: mm(one.targetMm), direction: one.direction, run: one.run, deviation: um(one.deviationUm) },
    }));
    const but = (change: object) =>
      refusal(() =>
        plantedTest([0], [1], () => 0, {
          name: "Y",
          readings: good.map((one, i) => (i === 1 ? { ...one, ...change } : one)),
        } as never),
      ).message;
    expect(but({ target: minutes(1) })).toBe("Y, reading 2: its target is 1 min; give a length such as mm(40)");
    expect(but({ deviation: degC(20) })).toBe("Y, reading 2: its deviation is 20 °C; give a length such as um(3)");
    expect(but({ run: 1.5 })).toBe("Y, reading 2: its run is 1.5; number the runs from 1");
    expect(but({ run: -1 })).toBe("Y, reading 2: its run is -1; number the runs from 1");
  });
});

import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { parseWarmUp, readWarmUp } from "../../kernel-lib/src/heat/index.js";
import { minutes } from "../../kernel-lib/src/quantity/index.js";
import { refusal } from "../refusal.js";

const gauge = ["# gauge resolution: 1 µm", "# gauge maximum permissible error: 3 µm"];
const at = [0, 10, 20, 40, 60, 90, 120];
const rise = (t: number) => 20 * (1 - Math.exp(-t / 40));
const sheet = (heading: string, rows: readonly string[], more: readonly string[] = []) =>
  [...gauge, ...more, heading, ...rows].join("\n");
const message = (text: string) => refusal(() => parseWarmUp(text, { name: "warm.csv" })).message;
const code = (text: string) => refusal(() => parseWarmUp(text, { name: "warm.csv" })).code;

describe("a warm-up record", () => {
  it("reads time, length and temperature in the units of their headings to one curve", () => {
    const inUnits = (time: (t: number) => string, heading: string, length: (um: number) => number) =>
      parseWarmUp(
        sheet(
          heading,
          at.map((t) => `${time(t)},${length(rise(t))}`),
        ),
      ).growth();
    const plain = inUnits(String, "time/min,nose/um", (um) => um);
    const others = [
      inUnits(
        (t) => String(t * 60),
        "time/s,nose/mm",
        (um) => um / 1000,
      ),
      inUnits(
        (t) => `1${7 + Math.floor(t / 60)}:${String(t % 60).padStart(2, "0")}`,
        "time,nose/thou",
        (um) => um / 25.4,
      ),
      inUnits(
        (t) => String(t / 60),
        "time/h,nose/in",
        (um) => um / 25400,
      ),
    ];
    for (const other of others) {
      expect(other.timeConstant.in("min")).toBeCloseTo(plain.timeConstant.in("min"), 5);
      expect(other.total.in("um")).toBeCloseTo(plain.total.in("um"), 5);
    }
    expect(plain.timeConstant.in("min")).toBeCloseTo(40, 4);
  });

  it("keeps thermometers in °C and °F apart by their headings and lets blank cells be", () => {
    const rows = at.map((t) => `${t},${20 + rise(t) / 4},${t === 20 ? "" : (20 + rise(t) / 4) * 1.8 + 32}`);
    const record = parseWarmUp(sheet("time/min,head/degC,Column/°F", rows));
    expect(record.thermometers).toEqual(["head", "column"]);
    expect(record.gauge).toBeUndefined();
    const [head, column] = record.columns();
    expect(column!.minute.length).toBe(head!.minute.length - 1);
    expect(column!.value[0]).toBeCloseTo(head!.value[0]!, 9);
    expect(column!.value.at(-1)).toBeCloseTo(head!.value.at(-1)!, 9);
    expect(record.temperature("column").total.in("K")).toBeCloseTo(5, 6);
  });

  it("puts in sense and lever angle of the gauge", () => {
    const rows = at.map((t) => `${t},${-2 * rise(t)}`);
    const record = parseWarmUp(
      sheet("time/min,nose/um", rows, ["# gauge lever angle: 60 deg", "# positive: surface stands low"]),
    );
    expect(record.growth().total.in("um")).toBeCloseTo(20, 6);
  });

  it("cuts the invented record where the spindle was stopped, and finds what was planted in both parts", () => {
    const { heat } = JSON.parse(readFileSync("data/truth.json", "utf8"));
    const record = readWarmUp("data/warm-up-spindle.csv");
    const up = record.between(minutes(0), minutes(heat.stoppedMin));
    const down = record.between(minutes(heat.stoppedMin), record.lasts);
    expect(down.startsAt!.in("h")).toBe(16.5);
    const holds = (found: { interval(): readonly { in(unit: "min"): number }[] }, truth: number) => {
      const [low, high] = found.interval() as [{ in(u: "min"): number }, { in(u: "min"): number }];
      expect(low.in("min")).toBeLessThan(truth);
      expect(high.in("min")).toBeGreaterThan(truth);
    };
    holds(up.growth("nose").timeConstant, heat.nose.warmUpMin);
    holds(down.growth("nose").timeConstant, heat.nose.coolDownMin);
    holds(up.temperature("headstock").timeConstant, heat.headstock.warmUpMin);
    holds(down.temperature("headstock").timeConstant, heat.headstock.coolDownMin);
    expect(`${record}`).toBe(
      "spindle nose of the bed mill, warming up and cooling down: 33 moments over 360 min, growth of nose, thermometers headstock, room",
    );
    expect(refusal(() => up.growth("quill")).message).toBe(
      'spindle nose of the bed mill, warming up and cooling down: has no growth "quill"; give one of nose',
    );
    const bare = parseWarmUp(sheet("time/min,nose/um", ["0,0", "10,3"]), { name: "warm.csv" });
    expect(refusal(() => bare.temperature()).message).toBe(
      "warm.csv: has 0 columns of temperature; a column of temperature is needed, read the record again with one",
    );
    expect(refusal(() => up.temperature()).message).toBe(
      "spindle nose of the bed mill, warming up and cooling down: has 2 columns of temperature; give one of headstock, room",
    );
    expect(refusal(() => record.between(minutes(400), minutes(500))).message).toBe(
      "spindle nose of the bed mill, warming up and cooling down: 0 rows from 400 min to 500 min; the record runs from 0 min to 360 min, give a longer span of it",
    );
  });

  it("refuses data without times", () => {
    expect(message(sheet("nose/um", ["0", "3"]))).toBe(
      "warm.csv: there is no column of time; write the heading time/min,nose/um,headstock/degC,room/degC, a time for each row",
    );
    expect(message(sheet("time/min,nose/um", ["0,0", ",3"]))).toBe(
      "warm.csv line 5, column time/min: is blank; a reading without its time cannot be used, write it or leave the row out",
    );
    expect(message(sheet("time,nose/um", ["19:00,0", "7 pm,3"]))).toBe(
      'warm.csv line 5, column time: "7 pm" is no time; write hours and minutes like 19:05',
    );
  });

  it("asks what temperatures without a unit are", () => {
    expect(message(sheet("time/min,t_spindle", ["0,68", "10,70.5", "20,75"]))).toBe(
      'warm.csv line 3, column 2: the heading "t_spindle" has no unit and its cells run from 68 to 75; are they °C, °F, or a length? write t_spindle/degC, t_spindle/degF or t_spindle/um',
    );
    expect(message(sheet("time/min,nose/furlong", ["0,0"]))).toBe(
      'warm.csv line 3, column 2: the heading "nose/furlong" has the unit "furlong", which is not known, and its cells run from 0 to 0; are they °C, °F, or a length? write nose/degC, nose/degF or nose/um',
    );
  });

  it("refuses mixed units, times that run backwards and a gauge that rolled over", () => {
    expect(message(sheet("time/min,head/degC", ["0,20", "10,70 °F"]))).toBe(
      'warm.csv line 5, column head/degC: "70 °F" brings a unit of its own; the unit stands once, in the heading: convert the cell and write digits only',
    );
    expect(code(sheet("time/min,nose/um", ["0,0", "10,0.3 thou"]))).toBe("mixed-units");
    expect(message(sheet("time,nose/um", ["23:50,0", "0:10,3"]))).toBe(
      "warm.csv line 5, column time: 0:10 is not after the 23:50 of the row before; put the rows in the order of time, one a moment; past midnight head the column time/min and count from the start",
    );
    expect(message(sheet("time/min,nose/um", ["0,0", "10,3", "10,4"]))).toBe(
      "warm.csv line 6, column time/min: 10 is not after the 10 of the row before; put the rows in the order of time, one a moment",
    );
    const turn = ["# gauge range per turn: 0.1 mm"];
    expect(message(sheet("time/min,nose/um", ["0,5", "10,208"], turn))).toBe(
      "warm.csv line 6, column nose/um: 208 is 203 µm above the row before, about 2 turns of the pointer (100 µm each); the small hand was missed: write the whole reading, turns included",
    );
    expect(message(sheet("time/min,nose/um", ["0,80", "10,95", "20,7", "30,15"], turn))).toBe(
      "warm.csv line 7, column nose/um: 7 is 88 µm below the row before, about one turn of the pointer (100 µm each); the small hand was missed: write the whole reading, turns included",
    );
    expect(parseWarmUp(sheet("time/min,nose/um", ["0,80", "10,95", "20,107"], turn)).growths).toEqual(["nose"]);
  });

  it("refuses what is no record", () => {
    expect(message(sheet("time/min,note", ["0,start"]))).toBe(
      "warm.csv: there is no column of growth or temperature; write the heading time/min,nose/um,headstock/degC,room/degC",
    );
    expect(message(sheet("time/min,nose/um", []))).toBe(
      "warm.csv: no row follows the heading; write a row for each moment",
    );
    expect(refusal(() => parseWarmUp("time/min,nose/um\n0,0\n1,2")).code).toBe("gauge-missing");
    expect(refusal(() => readWarmUp("data/warm-up-spindel.csv")).code).toBe("no-such-file");
  });
});

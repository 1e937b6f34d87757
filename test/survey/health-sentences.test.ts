import { describe, expect, it } from "vitest";
import { randomStream } from "../../kernel-lib/src/numerics/random.js";
import type { Finding } from "../../kernel-lib/src/survey/finding.js";
import { Health } from "../../kernel-lib/src/survey/health.js";
import { chanceText } from "../../kernel-lib/src/survey/health-readings.js";
import { parseSurvey } from "../../kernel-lib/src/survey/survey.js";
import { inspected } from "./inspected.js";

const above = [
  "# relative to: travel",
  "# front: y-",
  "# +x: right",
  "# +y: back",
  "# gauge maximum permissible error: 4 um",
];
const heading = "place,x/mm,y/mm,z/um,pass";
const sheet = (rows: readonly string[], more: readonly string[] = [], head = heading, step = "1 um") =>
  [...above, `# gauge resolution: ${step}`, ...more, head, ...rows].join("\n");
const health = (text: string) => parseSurvey(text, { name: "t" }).health();
const found = (text: string, check: string): readonly Finding[] =>
  health(text).findings.filter((finding) => finding.check === check);

/** a grid of 6 × 5 places with a bow, read in whole µm with a scatter of its own for each pass */
const random = randomStream(5);
const scatter = Array.from({ length: 3 }, () => Array.from({ length: 30 }, () => 0.6 * random.normal()));
const spots = Array.from({ length: 30 }, (_, i) => {
  const [row, column] = [Math.floor(i / 6), i % 6];
  return { place: `${"ABCDE"[row]}${column + 1}`, x: 50 * column, y: 40 * row };
});
type Change = (i: number, pass: number, x: number, y: number) => number;
const heightAt = (i: number, pass: number, change: Change) => {
  const { x, y } = spots[i]!;
  const form = ((x - 125) / 40) ** 2 - ((y - 80) / 40) ** 2 + (x * y) / 4000;
  return Math.round(form + scatter[pass - 1]![i]! + change(i, pass, x, y));
};
const grid = (passes: number, change: Change = () => 0, cell: (i: number, pass: number) => string = () => "") =>
  Array.from({ length: passes }, (_, k) =>
    spots.map(({ place, x, y }, i) => `${place},${x},${y},${heightAt(i, k + 1, change)},${k + 1}${cell(i, k + 1)}`),
  ).flat();
const at = (place: string) => spots.findIndex((spot) => spot.place === place);
const lift =
  (place: string, by: number, in_: number | "both" = "both"): Change =>
  (i, pass) =>
    i === at(place) && (in_ === "both" || in_ === pass) ? by : 0;

describe("units that a machine does not have", () => {
  const units = (rows: string[], head: string) => found(sheet(rows, [], head), "units");
  it("are asked about, each axis by itself", () => {
    expect(units(["A1,0,0,3,1", "B1,3001,0,4,1"], heading)).toEqual([
      {
        check: "units",
        severity: "stop",
        what: "x spans 3000 mm when read in mm",
        places: [],
        howSure: "no milling machine table looks like that",
        whatToDo: "ask whether column x is in mm; correct the heading on a copy of the sheet",
      },
    ]);
    expect(units(["A1,0,0,3,1", "B1,0,50,4,1"], "place,x/mm,y/um,z/um,pass")[0]!.what).toBe(
      "y spans 0.05 mm when read in um",
    );
    expect(units(["A1,0,0,0,1", "B1,50,0,5.1,1"], "place,x/mm,y/mm,z/mm,pass")[0]!.what).toBe(
      "z spans 5.1 mm when read in mm",
    );
  });
  it("are not where the span is just within, or nothing at all", () => {
    const within = ["A1,0,0,0,1", "B1,3000,2,5,1"];
    expect(units(within, "place,x/mm,y/mm,z/mm,pass")).toEqual([]);
    expect(units(["A1,0,0,0,1", "B1,2,3000,5,1"], "place,x/mm,y/mm,z/mm,pass")).toEqual([]);
    expect(units(["A1,0,0,0,1", "B1,1.9,0,5,1"], heading)).toHaveLength(1);
    expect(units(["A1,0,0,0,1", "A2,0,3000.1,5,1"], heading)).toHaveLength(1);
  });
});

describe("what the gauge cannot give", () => {
  const range = (low: number, high: number, more: string[]) =>
    found(sheet([`A1,0,0,${low},1`, `B1,50,0,${high},1`], more), "range");
  it("is a span beyond its range", () => {
    expect(range(-30, 71, ["# gauge range: 0.1 mm"])).toEqual([
      {
        check: "range",
        severity: "stop",
        what: "readings span 101 µm and the gauge has a range of 100 µm",
        places: [],
        howSure: "certain",
        whatToDo: "look for a gauge set anew on the way, a wrong unit of z or a slip of the pen",
      },
    ]);
    expect(range(-30, 70, ["# gauge range: 0.1 mm"])).toEqual([]);
    expect(range(-30, 700, [])).toEqual([]);
  });

  const steps = (cells: readonly string[], more: string[], step = "2 um") =>
    found(
      sheet(
        cells.map((z, i) => `A${i},${9 * i},0,${z},1`),
        more,
        heading,
        step,
      ),
      "steps",
    );
  it("is a figure between its steps", () => {
    const analogue = ["# gauge display: analogue", "# gauge fraction estimated: 0.5"];
    expect(steps(["1", "2", "3", "-4"], analogue)).toEqual([]);
    expect(steps(["1", "2", "3", "-4"], ["# gauge display: analogue"])[0]!.what).toBe(
      "2 of 4 readings are no whole number of steps of 2 µm, such as 1 µm",
    );
    expect(steps(["2", "0", "100000", "-4"], [])).toEqual([]);
    expect(steps(["1", "3", "2", "5"], [])).toEqual([
      {
        check: "steps",
        severity: "check",
        what: "3 of 4 readings are no whole number of steps of 2 µm, such as 1 µm",
        places: [],
        howSure: "certain",
        whatToDo: "check the resolution of the gauge, or the part of a division that is estimated",
      },
    ]);
    expect(steps(["1", "4", "2", "6"], [])[0]!.whatToDo).toBe(
      "ask whether these were read with another gauge or typed in another unit; if so, give them a sheet of their own",
    );
    // half of them is not some of them
    expect(steps(["1", "3", "2", "6"], [])[0]!.whatToDo).toBe(
      "check the resolution of the gauge, or the part of a division that is estimated",
    );
  });
  it("may be another unit under the heading", () => {
    const thou = ["0.1", "0.3", "0.7", "-0.4", "1.1"];
    expect(steps(thou, [], "0.1 thou")).toEqual([
      expect.objectContaining({
        severity: "stop",
        what: "5 of 5 readings are no whole number of steps of 2.54 µm, such as 0.1 µm",
        whatToDo:
          "ask whether column z is in thou: read so, they are whole steps; correct the heading on a copy of the sheet",
      }),
    ]);
    expect(steps(["1", "3", "-7", "4", "11"], [], "0.1 thou")[0]!.whatToDo).toContain("is in tenth: read so");
    expect(steps(["1", "3", "-7", "4", "11.3"], [], "2.54 um")[0]!.whatToDo).toContain("is in thou: read so");
  });
});

describe("what else the sheet says of itself", () => {
  it("axes that are a mirror image", () => {
    const text = sheet(["A1,0,0,3,1"]).replace("+x: right", "+x: left");
    expect(found(text, "frame")).toEqual([
      {
        check: "frame",
        severity: "note",
        what: "+X left with +Y back is the mirror image of the usual axes",
        places: [],
        howSure: "counting the motion of the table instead of the tool does that (ISO 841)",
        whatToDo: "check +x and +y on the sheet against the machine",
      },
    ]);
    expect(found(sheet(["A1,0,0,3,1"]), "frame")).toEqual([]);
  });

  it("datum returns in no order", () => {
    const rows = ["A1,0,0,3,1", "datum,5,5,1,1"];
    expect(found(sheet(rows, ["# order: unknown"]), "order")).toEqual([
      {
        check: "order",
        severity: "check",
        what: "the sheet has datum returns and does not say in which order it was read",
        places: [],
        howSure: "certain",
        whatToDo: "add a column order with a number for each reading",
      },
    ]);
    expect(found(sheet(rows), "order")).toEqual([]);
    expect(found(sheet(rows.slice(0, 1), ["# order: unknown"]), "order")).toEqual([]);
  });

  it("two names for one spot", () => {
    const rows = ["A1,0,0,3,1", "a1,0,0,3,1", "B1,50,0,3,1", "one,0,0,3,1"];
    expect(found(sheet(rows), "duplicates")).toEqual([
      {
        check: "duplicates",
        severity: "check",
        what: "A1 and a1 and one stand at the same spot, x 0 mm, y 0 mm",
        places: ["A1", "a1", "one"],
        howSure: "certain",
        whatToDo: "give them one name if they are one place, or correct x and y",
      },
    ]);
    expect(found(sheet(["A1,0,0,3,1", "B1,0,9,3,1", "C1,9,0,3,1"]), "duplicates")).toEqual([]);
  });

  it("places beyond the travel, up to five by name", () => {
    const row = (n: number) => Array.from({ length: n }, (_, i) => `P${i},${10 * i},${i},3,1`);
    const said = (n: number, ...more: string[]) => found(sheet(row(n), more), "travel");
    expect(said(9, "# travel x: 20 mm to 30 mm")).toEqual([
      {
        check: "travel",
        severity: "stop",
        what: "P0, P1, P4, P5, P6 and 2 more: outside the travel stated on the sheet",
        places: ["P0", "P1", "P4", "P5", "P6", "P7", "P8"],
        howSure: "certain",
        whatToDo: "correct x and y, or the lines travel x and travel y",
      },
    ]);
    expect(said(9, "# travel x: 20 mm to 60 mm")[0]!.what).toMatch(/^P0, P1, P7, P8: outside/);
    expect(said(7, "# travel x: 20 mm to 30 mm")[0]!.what).toMatch(/^P0, P1, P4, P5, P6: outside/);
    expect(said(4, "# travel y: 1 mm to 2 mm")[0]!.places).toEqual(["P0", "P3"]);
    expect(said(4, "# travel x: 0 mm to 30 mm", "# travel y: 0 mm to 3 mm")).toEqual([]);
    expect(said(4)).toEqual([]);
  });

  it("cells left blank", () => {
    const rows = ["A1,0,0,3,1", "B1,50,0,,1", "B1,50,0,,2", "C1,90,0,1,2", "datum,5,5,,1"];
    expect(found(sheet(rows), "blanks")).toEqual([
      {
        check: "blanks",
        severity: "check",
        what: "3 cells are blank, not probed: B1 pass 1, B1 pass 2, datum pass 1",
        places: ["B1", "datum"],
        howSure: "certain",
        whatToDo: "probe them, or go on without: nothing is filled in for them",
      },
    ]);
    expect(found(sheet([rows[0]!, rows[3]!, rows[4]!]), "blanks")[0]!.severity).toBe("note");
    expect(found(sheet([rows[0]!]), "blanks")).toEqual([]);
    // three readings of one datum are one name
    const thrice = new Array(3).fill("datum,5,5,,1");
    expect(found(sheet([rows[0]!, ...thrice]), "blanks")[0]!.what).toBe("3 cells are blank, not probed: datum pass 1");
  });

  it("that nothing is read yet, and no more of it", () => {
    const empty = ["A1,0,0,,1", "B1,50,0,,1", "A1,0,0,,2", "B1,50,0,,2"];
    const { findings } = health(sheet(empty));
    expect(findings.map(({ check }) => check)).toEqual(["blanks", "protocol"]);
    expect(findings[0]).toEqual({
      check: "blanks",
      severity: "check",
      what: "nothing is read yet: 4 cells wait for a reading",
      places: [],
      howSure: "certain",
      whatToDo: "type the readings in; leave a cell blank where a place can't be probed",
    });
  });

  it("rows that one pass lacks, and a place that the grid lacks", () => {
    const rows = grid(2);
    const without = (...lost: string[]) =>
      sheet(rows.filter((row) => !lost.some((one) => row.startsWith(`${one},`) || one === placePass(row))));
    const placePass = (row: string) => `${row.split(",")[0]} ${row.split(",")[4]}`;
    expect(found(without(), "rows")).toEqual([]);
    expect(found(without("D2 2"), "rows")).toEqual([
      {
        check: "rows",
        severity: "check",
        what: "1 row is missing: D2 pass 2",
        places: ["D2"],
        howSure: "certain: other passes have them",
        whatToDo: "write the rows in, or leave their height blank where nothing was read",
      },
    ]);
    expect(found(without("D2 2", "E6 1"), "rows")[0]!.what).toBe("2 rows are missing: E6 pass 1, D2 pass 2");
    expect(found(without("C4"), "rows")).toEqual([
      {
        check: "rows",
        severity: "note",
        what: "the grid of the others has no place at x 150 mm, y 80 mm",
        places: [],
        howSure: "certain",
        whatToDo: "right where a hole or a clamp is; else probe there too",
      },
    ]);
    // a second pass over part of the table was meant so, and places strewn about are no grid
    const few = rows.filter((row) => row.endsWith(",1") || /^[AB]/.test(row));
    expect(found(sheet(few), "rows")).toEqual([]);
    const strewn = Array.from({ length: 9 }, (_, i) => `P${i},${10 * i},${(7 * i) % 50},3,1`);
    expect(found(sheet(strewn), "rows")).toEqual([]);
  });

  it("what is not said of how it was taken", () => {
    const protocol = [
      "burrs stoned",
      "top wiped",
      "stylus preloaded",
      "spindle",
      "quill",
      "head",
      "locks",
      "approach",
      "vice",
      "places",
      "slide between places",
      "feet",
      "thermometers",
    ];
    expect(found(sheet(["A1,0,0,3,1"]), "protocol")).toEqual([
      {
        check: "protocol",
        severity: "note",
        what: `the sheet does not say: ${protocol.join(", ")}, temperature`,
        places: [],
        howSure: "certain",
        whatToDo: 'write what is known above the heading, like "# spindle: locked, not turned"',
      },
    ]);
    const all = protocol.map((key) => `# ${key}: yes`);
    expect(found(sheet(["A1,0,0,3,1"], all), "protocol")[0]!.what).toBe("the sheet does not say: temperature");
    expect(found(sheet(["A1,0,0,3,1"], [...all, "# temperature table: 20 °C"]), "protocol")).toEqual([]);
    expect(found(sheet(["A1,0,0,3,1,20"], all, `${heading},temperature/degC`), "protocol")).toEqual([]);
  });
});

describe("passes and places", () => {
  const turn = ["# gauge range per turn: 0.2 mm"];

  it("passes that differ at a place, with the one that is likelier wrong", () => {
    const [one, ...more] = found(sheet(grid(2, lift("C3", 20, 2))), "passes");
    expect(more).toEqual([]);
    expect(one).toEqual({
      check: "passes",
      severity: "check",
      what: expect.stringMatching(
        /^C3: pass 1 and 2 differ by (19|20|21) µm, pass 2 likelier wrong \(it stands off its neighbours, and swarf reads high\)$/,
      ),
      places: ["C3"],
      howSure: "fewer than 1 clean sheet in 1000 shows as much",
      whatToDo: "wipe and re-measure C3",
    });
    const three = found(sheet(grid(3, lift("C3", -20, 2))), "passes");
    expect(three[0]!.what).toMatch(
      /^C3: pass 2 stands (19|20|21) µm below the mean of the others, pass 2 likelier wrong \(the other passes agree\)$/,
    );
    expect(found(sheet(grid(3, lift("C3", 20, 2))), "passes")[0]!.what).toContain("µm above the mean of the others");
    const both: Change = (i, pass) => (i === at("C3") ? (pass === 1 ? 10 : -10) : 0);
    expect(found(sheet(grid(2, both)), "passes")[0]!.what).toMatch(/ µm, one of these two is wrong$/);
    expect(found(sheet(grid(2)), "passes")).toEqual([]);
  });

  it("a difference of whole turns of the pointer", () => {
    const said = (by: number) => found(sheet(grid(2, lift("C3", by, 2)), turn), "passes")[0]!;
    for (const by of [200, -200, 400, 192, 208]) {
      expect(said(by).what).toMatch(/ µm, a whole turn of the pointer, /);
      expect(said(by).whatToDo).toBe("read the turn counter again at C3");
    }
    for (const by of [20, 150, 300, 185, 215]) {
      expect(said(by).what).not.toContain("turn");
      expect(said(by).whatToDo).toBe("wipe and re-measure C3");
    }
  });

  it("a place that stands off its neighbours in every pass", () => {
    expect(found(sheet(grid(2, lift("C3", 15))), "neighbours")).toEqual([
      {
        check: "neighbours",
        severity: "check",
        what: expect.stringMatching(
          /^C3: stands high by 1[4-6] µm against the smooth run of the others, and its passes agree$/,
        ),
        places: ["C3"],
        howSure: "fewer than 1 clean sheet in 1000 shows as much; likelier the table than a slip",
        whatToDo: "slide over C3 and its surroundings, feel for a burr or a ding",
      },
    ]);
    expect(found(sheet(grid(1, lift("C3", -15))), "neighbours")).toEqual([
      {
        check: "neighbours",
        severity: "check",
        what: expect.stringMatching(/^C3: stands low by 1[4-6] µm against the smooth run of the others$/),
        places: ["C3"],
        howSure: "fewer than 1 clean sheet in 1000 shows as much; one reading cannot tell the table from swarf",
        whatToDo: "wipe and re-measure C3",
      },
    ]);
    // of a place that was read in one of the passes no passes agree
    const once = grid(2, lift("C3", 15)).filter((row) => !/^C3,.*,1$/.test(row));
    expect(found(sheet(once), "neighbours")[0]).toMatchObject({
      what: expect.stringMatching(/^C3: stands high by 1[4-6] µm against the smooth run of the others$/),
      whatToDo: "wipe and re-measure C3",
    });
    expect(found(sheet(grid(1)), "neighbours")).toEqual([]);
    // a place whose passes differ is not asked about twice
    expect(found(sheet(grid(2, lift("C3", 30, 2))), "neighbours")).toEqual([]);
  });

  it("a single reading that stands high where the passes alone cannot prove it", () => {
    for (const passes of [2, 3]) {
      expect(found(sheet(grid(passes, lift("B3", 4, 2))), "neighbours")).toEqual([
        {
          check: "neighbours",
          severity: "check",
          what: expect.stringMatching(
            /^B3: pass 2 reads high by (3\.[5-9]|4\.[0-5]) µm against the smooth run of all readings$/,
          ),
          places: ["B3"],
          howSure: "fewer than 1 clean sheet in 1000 shows as much",
          whatToDo: "wipe and re-measure B3",
        },
      ]);
    }
    // a place is named once, whatever stands off there
    for (const by of [4, 5, 8]) {
      for (const place of ["B3", "C5", "D2"]) {
        const change: Change = (i, pass) => (i === at(place) && pass < 3 ? by : 0);
        const named = health(sheet(grid(3, change))).findings.filter(({ places }) => places.includes(place));
        expect(named).toHaveLength(1);
      }
    }
    // and no single reading is asked about where there is one pass
    expect(found(sheet(grid(1, lift("B3", 4))), "neighbours").filter(({ what }) => what.includes("pass 1"))).toEqual(
      [],
    );
  });

  it("a turn is told to 5 % of it, or to three steps where those are more", () => {
    const said = (by: number) =>
      found(sheet(grid(2, lift("C3", by, 2)), ["# gauge range per turn: 0.02 mm"]), "passes")[0]!.what;
    const off = Number(/differ by (\d+)/.exec(said(20))![1]) - 20;
    expect(said(20 + 2 - off)).toContain("a whole turn");
    expect(said(20 + 5 - off)).not.toContain("a whole turn");
  });

  it("neither offset nor tilt where passes scatter by more than they differ", () => {
    const rough = grid(2, (i, pass) => 9 * scatter[pass - 1]![i]!);
    for (const check of ["shift", "tilt"]) expect(found(sheet(rough), check)).toEqual([]);
    // and three passes share the chance that two have alone
    expect(found(sheet(grid(3, (_, pass) => (pass === 2 ? 9 : 0))), "shift")).toHaveLength(1);
  });

  it("a pass that is shifted or tilted against the first", () => {
    const shifted = found(sheet(grid(2, (_, pass) => (pass === 2 ? -12 : 0))), "shift");
    expect(shifted).toEqual([
      {
        check: "shift",
        severity: "note",
        what: expect.stringMatching(/^pass 2 reads 1[12] µm lower than pass 1 on the whole$/),
        places: [],
        howSure: expect.stringMatching(/^standard uncertainty of the difference 0\.[12] µm over 30 places$/),
        whatToDo: "a set zero or a change of temperature does that; the form is not touched by it",
      },
    ]);
    const small = found(sheet(grid(2, (_, pass) => (pass === 2 ? 5 : 0))), "shift");
    expect(small[0]!.what).toMatch(/^pass 2 reads (4\.[5-9]|5\.[0-5]) µm higher than pass 1 on the whole$/);
    const tilted = found(sheet(grid(2, (_, pass, x) => (pass === 2 ? x / 50 : 0))), "tilt");
    expect(tilted).toEqual([
      {
        check: "tilt",
        severity: "check",
        what: expect.stringMatching(/^pass 2 is tilted against pass 1 by (4\.\d|5\.\d|6\.\d) µm from end to end$/),
        places: [],
        howSure: "fewer than 1 clean sheet in 1000 shows as much",
        whatToDo: "the machine moved or warmed unevenly between the passes; let it settle and read a third pass",
      },
    ]);
    for (const check of ["shift", "tilt"]) expect(found(sheet(grid(3)), check)).toEqual([]);
    // seen, and less than half a step: nothing to say
    const hidden = grid(2, (_, pass) => (pass === 2 ? 1 : 0));
    expect(found(sheet(hidden, [], heading, "3 um"), "shift")).toEqual([]);
    expect(found(sheet(grid(3, (_, pass) => (pass === 3 ? 9 : 0))), "shift")[0]!.what).toMatch(/^pass 3 reads/);
  });

  it("one visit of a place in one pass is as good as another: no gap is filled", () => {
    expect(found(sheet(grid(2).slice(0, 31)), "shift")).toEqual([]);
  });
});

describe("how far readings repeat", () => {
  it("is said with its degrees of freedom, or that nothing was read twice", () => {
    const { repeatability, findings } = health(sheet(grid(2)));
    const s = repeatability!.standardDeviation;
    expect(repeatability!.degreesOfFreedom).toBe(60 - 30 - 3);
    const mean = s >= 0.5 || s / Math.SQRT2 >= 1 / Math.sqrt(12) ? s / Math.SQRT2 : 1 / Math.sqrt(12);
    expect(findings.filter(({ check }) => check === "repeats")).toEqual([
      {
        check: "repeats",
        severity: "note",
        what: `one reading repeats within s = ${s.toFixed(2)} µm; the mean of 2 has a standard uncertainty of ${mean.toFixed(2)} µm`,
        places: [],
        howSure: "27 degrees of freedom",
        whatToDo: "nothing",
      },
    ]);
    expect(found(sheet(grid(2, lift("C3", 25, 1))), "repeats")[0]!.what).toContain(
      " µm, without C3; the mean of 2 has",
    );
    expect(found(sheet(grid(1)), "repeats")).toEqual([
      {
        check: "repeats",
        severity: "check",
        what: "no place was read twice, so the sheet does not show how far its readings repeat",
        places: [],
        howSure: "certain",
        whatToDo: "wipe the table and read it a second time",
      },
    ]);
  });

  it("is not believed below half a step", () => {
    const still = [...grid(1), ...grid(1).map((row) => row.replace(/,1$/, ",2"))];
    expect(found(sheet(still), "resolution")).toEqual([
      {
        check: "resolution",
        severity: "note",
        what: "repeats scatter by s = 0.00 µm, less than half a step of 1 µm; so small an s is not believed and more passes do not help",
        places: [],
        howSure: "certain",
        whatToDo: "take the step of the gauge over √12 for the doubt of a place, or use a finer gauge",
      },
    ]);
    expect(found(sheet(still), "repeats")[0]!.what).toBe(
      "one reading repeats within s = 0.00 µm; the mean of 2 has a standard uncertainty of 0.29 µm",
    );
    expect(found(sheet(grid(2)), "resolution")).toEqual([]);
  });
});

describe("readings of a datum one after the other", () => {
  const visits = (off: number, n = 3) =>
    Array.from({ length: 4 }, (_, k) => [
      ...Array.from({ length: n }, (__, r) => `datum 1,5,5,${r % 2 === 0 ? 10 : 11},1`),
      ...(k < 3 ? [`P${k},${50 * k},0,${k},1`] : []),
    ])
      .flat()
      .map((row, i) => (i === 5 ? row.replace(/,1[01],1$/, `,${10 + off},1`) : row));
  it("that stand off the others are named with number, size and side", () => {
    // visit 2 reads 10, 10 + off, 10: off the others by off; within the three others s² = (2/3)/2 a visit, 1/3
    const spread = Math.sqrt(1 / 3) * Math.sqrt(1.5);
    for (const off of [14, -14]) {
      expect(found(sheet(visits(off)), "datum reading")).toEqual([
        {
          check: "datum reading",
          severity: "check",
          what: `datum 1, pass 1: reading 2 of 3 taken one after the other stands 14.0 µm ${off > 0 ? "above" : "below"} the others`,
          places: ["datum 1"],
          howSure: `${(14 / spread).toFixed(0)} standard deviations; 6 are asked for`,
          whatToDo:
            "look at the paper, wipe and read that datum again; until then the drift taken out is wrong by a part of it",
        },
      ]);
    }
    // 6 · 0.707 = 4.24
    expect(found(sheet(visits(5)), "datum reading")).toHaveLength(1);
    expect(found(sheet(visits(4)), "datum reading")).toEqual([]);
  });
  it("are not judged in pairs, nor where the other visits say too little", () => {
    expect(found(sheet(visits(14, 2)), "datum reading")).toEqual([]);
    const less = visits(14).slice(0, 7);
    expect(found(sheet(less), "datum reading")).toEqual([]);
    expect(found(sheet(visits(14).slice(0, 11)), "datum reading")).toHaveLength(1);
  });
});

describe("drift, as the datum returns show it", () => {
  /** one pass with three rounds of two datums before, between and after, three readings each */
  const rounds = (shift: (round: number) => number, between: (place: string) => number = () => 0) => {
    const round = (k: number) =>
      [1, 2].flatMap((n) => [0, 1, 0].map((z) => `datum ${n},${60 * n},33,${z + 10 * n + shift(k)},1`));
    const places = grid(1).map((row) => {
      const cells = row.split(",");
      cells[3] = String(Number(cells[3]) + between(cells[0]!));
      return cells.join(",");
    });
    return [...round(0), ...places.slice(0, 15), ...round(1), ...places.slice(15), ...round(2)];
  };

  it("none seen: how large one would have been seen", () => {
    const [one, ...more] = found(sheet(rounds(() => 0)), "drift");
    expect(more).toEqual([]);
    expect(one).toEqual({
      check: "drift",
      severity: "note",
      what: expect.stringMatching(
        /^the datum returns show no drift beyond their scatter \(.* µm over the survey by a straight line, standard uncertainty \d\.\d µm\); nothing was taken out.*; datum 1 comes back \+0\.0 µm$/,
      ),
      places: [],
      howSure: expect.stringMatching(/^a drift above \d\.\d µm would have shown 8 times in 10$/),
      whatToDo: "nothing",
    });
    const u = Number(/standard uncertainty (\d\.\d)/.exec(one!.what)![1]);
    // 1.96 for the test at 5 % … this one is at 1.1 %: 2.54, and 0.84 more to be found 8 times in 10 (tables of the normal law)
    expect(Math.abs(Number(/above (\d\.\d)/.exec(one!.howSure)![1]) / u - 3.4)).toBeLessThan(0.6);
  });

  it("seen: with the misclosure, the datums and what to do", () => {
    const [one, ...more] = found(sheet(rounds((k) => -6 * k)), "drift");
    expect(more).toEqual([]);
    expect(one).toEqual({
      check: "drift",
      severity: "check",
      what: expect.stringMatching(
        /^the datum returns drift \(−1\d\.\d µm over the survey by a straight line, .*; datum 1 comes back −12\.0 µm$/,
      ),
      places: ["datum 1", "datum 2"],
      howSure: "fewer than 1 clean sheet in 1000 shows as much",
      whatToDo:
        "let machine and gauge come to one temperature and read again; until then the heights carry the doubt of the correction",
    });
  });

  it("not tested: said where the map is large enough to ask for it", () => {
    const untested = (n: number) => found(sheet(grid(1).slice(0, n)), "drift");
    expect(untested(4)).toEqual([]);
    expect(untested(5)).toEqual([
      {
        check: "drift",
        severity: "note",
        what: "the sheet has no datum returns; drift was not tested and nothing was taken out",
        places: [],
        howSure: "certain",
        whatToDo: "next time read two or three datum places three times each at the start, between and at the end",
      },
    ]);
  });
});

describe("the course of the survey", () => {
  const timed = (times: readonly (number | "")[], order?: readonly number[]) =>
    sheet(
      times.map(
        (time, i) => `P${i % 3},${50 * (i % 3)},0,${i},${1 + Math.floor(i / 3)},${time}${order ? `,${order[i]}` : ""}`,
      ),
      [],
      `${heading},time/min${order ? ",order" : ""}`,
    );
  it("a clock that runs back, once or more", () => {
    expect(found(timed([1, 2, 1, 4, 4, 5]), "clock")).toEqual([
      {
        check: "clock",
        severity: "check",
        what: "the clock runs back once, first at P2, pass 1; the order of the readings is used instead of it",
        places: ["P2"],
        howSure: "certain",
        whatToDo: "correct the time there, or write the hours past midnight on (head the column time/h)",
      },
    ]);
    expect(found(timed([3, 2, 1, 9, 8, 10]), "clock")[0]).toMatchObject({
      what: "the clock runs back 3 times, first at P1, pass 1; the order of the readings is used instead of it",
      places: ["P1", "P2"],
    });
    expect(found(timed([1, 2, 2, 4, 4, 5]), "clock")).toEqual([]);
    expect(found(timed([3, "", 1, 4, 5, 6]), "clock")).toHaveLength(1);
    expect(found(timed([3, 2, 1, 9, 8, 7], [3, 2, 1, 6, 5, 4]), "clock")).toEqual([]);
    expect(found(timed([1, 2, 3, 4, 5, 6], [1, 2, 4, 3, 5, 6]), "clock")[0]!.what).toContain("first at P2, pass 1;");
    expect(found(sheet(grid(1)), "clock")).toEqual([]);
  });

  const d = (n: number, pass = 1) => `datum ${n},${n},3,${n},${pass}`;
  const p = (n: number) => `P${n},${50 * n},0,${n},1`;
  const returns = (...rows: string[]) => found(sheet(rows), "returns");
  it("datum returns that are missing", () => {
    expect(returns(d(1), d(2), p(1), d(1), d(2), p(2), d(1), d(2))).toEqual([]);
    expect(returns(p(1), p(2), d(1), d(2), p(3), d(1), d(2), p(4), p(5), p(6))).toEqual([
      {
        check: "returns",
        severity: "check",
        what: "a datum return is missing: the survey begins without one (the first stands 2 readings on); it ends without one (the last stands 3 readings before the end)",
        places: ["datum 1", "datum 2"],
        howSure: "certain",
        whatToDo:
          "read every datum at the start, between and at the end; beyond the last return drift is only carried on",
      },
    ]);
    expect(returns(d(1), d(2), d(3), p(1), d(1), p(2), d(3), d(2))[0]!.what).toBe(
      "a datum return is missing: datum 2, datum 3 is not in round 2 of 3; datum 1 is not in round 3 of 3",
    );
    // three of them are enough to say
    expect(returns(p(1), d(1), p(2), d(2), p(3), d(1), p(4))[0]!.what).toBe(
      "a datum return is missing: the survey begins without one (the first stands 1 readings on); it ends without one (the last stands 1 readings before the end); datum 2 is not in round 1 of 3",
    );
    expect(returns(p(1), p(2))).toEqual([]);
    expect(found(sheet([p(1), d(1)], ["# order: unknown"]), "returns")).toEqual([]);
    // a blank one is none, and neither is one set aside
    expect(returns(d(1), p(1), "datum 1,1,3,,1")[0]!.what).toContain("ends without one (the last stands 1 readings");
    expect(found(sheet([d(1), p(1), d(1, 2)], ["# removed: datum 1, pass 2: knocked"]), "returns")).toHaveLength(1);
  });

  const sides = (play: number, word: (i: number, pass: number) => string, passes = 2, more: string[] = []) =>
    sheet(
      grid(
        passes,
        (i, pass) => (word(i, pass) === "+x" ? play : 0),
        (i, pass) => `,${word(i, pass)}`,
      ),
      more,
      `${heading},approach`,
    );
  /** each place once from either side, each pass from both */
  const turns = (i: number, pass: number) => ((i + pass) % 2 === 0 ? "+x" : "-x");
  it("places approached from both sides", () => {
    const [one, ...more] = found(sides(4, turns), "approach");
    expect(more).toEqual([]);
    expect(one).toEqual({
      check: "approach",
      severity: "check",
      what: expect.stringMatching(/^places approached -x read (3\.[5-9]|4\.[0-5]) µm lower than approached \+x$/),
      places: [],
      howSure: expect.stringMatching(
        /^fewer than 1 clean sheet in 1000 shows as much; standard uncertainty 0\.\d µm over 30 places$/,
      ),
      whatToDo: "approach every place from the same side; until then the heights carry this hysteresis or play",
    });
    expect(found(sides(-4, turns), "approach")[0]!.what).toMatch(/^places approached -x read .* µm higher than/);
    expect(found(sides(0, turns), "approach")).toEqual([]);
  });

  it("approaches that mix and cannot be told from a zero that was set anew", () => {
    const byPass = (_: number, pass: number) => (pass === 1 ? "+x" : "-x");
    expect(found(sides(4, byPass), "approach")).toEqual([
      {
        check: "approach",
        severity: "note",
        what: "the sheet has readings approached +x and -x, and the gauge states no hysteresis",
        places: [],
        howSure: "certain",
        whatToDo: "approach every place from the same side, or state the hysteresis of the gauge",
      },
    ]);
    expect(found(sides(4, byPass, 2, ["# gauge hysteresis: 2 um"]), "approach")).toEqual([]);
    expect(
      found(
        sides(4, () => "+x"),
        "approach",
      ),
    ).toEqual([]);
    expect(
      found(
        sides(4, () => ""),
        "approach",
      ),
    ).toEqual([]);
    // one pass repeats nothing
    expect(found(sides(0, turns, 1), "approach")[0]!.severity).toBe("note");
    // fewer than three places from both sides
    const few = (i: number, pass: number) => (i < 2 ? turns(i, pass) : "+x");
    expect(found(sides(0, few), "approach")[0]!.severity).toBe("note");
    const three = (i: number, pass: number) => (i < 3 ? turns(i, pass) : "+x");
    expect(found(sides(0, three), "approach")).toEqual([]);
  });
});

describe("the health of a survey", () => {
  const one = (severity: Finding["severity"], what: string): Finding => ({
    check: "c",
    severity,
    what,
    places: [],
    howSure: "certain",
    whatToDo: "nothing",
  });
  it("has the worst first, and is sound where there are notes alone", () => {
    const made = Health.from("t", [one("note", "a"), one("check", "b"), one("stop", "c"), one("note", "d")], undefined);
    expect(made.findings.map(({ what }) => what).join("")).toBe("cbad");
    expect(made.isSound).toBe(false);
    expect(`${made}`).toBe(
      "Health of t: 1 to stop for, 1 to check, 2 to note\nstop: c (certain)\ncheck: b (certain)\nnote: a (certain)\nnote: d (certain)",
    );
    expect(inspected(made)).toBe(`${made}`);
    expect(Health.from("t", [one("note", "a")], undefined).isSound).toBe(true);
    expect(Health.from("t", [one("check", "a")], undefined).isSound).toBe(false);
    expect(Health.from("t", [], undefined).isSound).toBe(true);
  });

  it("says a chance as one of so many sheets", () => {
    expect([0.25, 0.011, 0.0011, 0.001, 0, Number.NaN].map(chanceText)).toEqual([
      "about 1 clean sheet in 4 shows as much",
      "about 1 clean sheet in 91 shows as much",
      "about 1 clean sheet in 909 shows as much",
      ...new Array(3).fill("fewer than 1 clean sheet in 1000 shows as much"),
    ]);
  });
});

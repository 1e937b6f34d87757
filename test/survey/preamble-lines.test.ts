import { describe, expect, it } from "vitest";
import { deg, inch, mm, thou, um } from "../../kernel-lib/src/quantity/index.js";
import { type Gauge, gauge } from "../../kernel-lib/src/survey/gauge.js";
import type { ParseOptions } from "../../kernel-lib/src/survey/parse-sheet.js";
import { isMirrored } from "../../kernel-lib/src/survey/preamble-frame.js";
import { exactText, gaugeLines } from "../../kernel-lib/src/survey/preamble-gauge.js";
import { isPreamble, isRowOfBlanks, preambleText } from "../../kernel-lib/src/survey/preamble-text.js";
import { parseSurvey } from "../../kernel-lib/src/survey/survey.js";
import { refusal } from "../refusal.js";

const frameLines = ["# relative to: travel", "# front: y-", "# +x: right", "# +y: back"];
const gaugeSaid = ["# gauge resolution: 1 um", "# gauge maximum permissible error: 4 um"];
const table = ["place,x/mm,y/mm,z/um,pass", "A1,0,0,3,1", "B1,50,0,-2,1"];
const read = (more: readonly string[], options: ParseOptions = {}) =>
  parseSurvey([...more, ...frameLines, ...gaugeSaid, ...table].join("\n"), { name: "t", ...options });
const said = (act: () => unknown) => {
  const { code, message } = refusal(act);
  return `${code}: ${message}`;
};

const full: Gauge = gauge({
  name: "plunger",
  resolution: um(2),
  maximumPermissibleError: um(4),
  maximumPermissibleErrorWhole: um(12),
  display: "analogue",
  fractionEstimated: 0.2,
  range: mm(10),
  rangePerTurn: mm(0.2),
  hysteresis: um(1),
  repeatability: { standardDeviation: um(0.6), degreesOfFreedom: 9 },
  plungerTilt: deg(3),
  leverAngle: deg(12),
  sense: "minus",
});
const fullLines = [
  ["gauge", "plunger"],
  ["gauge resolution", "0.002 mm"],
  ["gauge maximum permissible error", "0.004 mm"],
  ["gauge maximum permissible error whole", "0.012 mm"],
  ["gauge range", "10 mm"],
  ["gauge range per turn", "0.2 mm"],
  ["gauge hysteresis", "0.001 mm"],
  ["gauge plunger tilt", "3 deg"],
  ["gauge lever angle", "12 deg"],
  ["gauge repeatability", "0.6 um with 9 degrees of freedom"],
  ["gauge display", "analogue"],
  ["gauge fraction estimated", "0.2"],
  ["positive", "surface stands low"],
];

describe("the gauge of a sheet", () => {
  it("is said line by line, and read again as the very same", () => {
    expect(gaugeLines(full)).toEqual(fullLines);
    const lines = fullLines.map(([key, value]) => `# ${key}: ${value}`);
    const survey = parseSurvey([...frameLines, ...lines, ...table].join("\n"));
    expect(survey.gauge).toEqual(full);
    expect(survey.otherLines).toEqual([]);
    const plain = gauge({ resolution: um(1), maximumPermissibleError: um(4), sense: "plus" });
    expect(gaugeLines(plain)).toEqual([
      ["gauge resolution", "0.001 mm"],
      ["gauge maximum permissible error", "0.004 mm"],
      ["positive", "surface stands high"],
    ]);
    const high = read(["# positive: surface stands high", "# gauge display: digital"]).gauge;
    expect([high.sense, high.display]).toEqual(["plus", "digital"]);
  });

  it("may scatter as if from endless readings", () => {
    const { gauge: made } = read(["# gauge repeatability: 0.6 um with Infinity degrees of freedom"]);
    expect(made.repeatability).toEqual({ standardDeviation: um(0.6), degreesOfFreedom: Number.POSITIVE_INFINITY });
  });

  it("may be said in code in part, where the two agree", () => {
    const made = gauge({ ...full, resolution: um(1), name: "gauge" });
    const merged = read(["# gauge: plunger", "# gauge lever angle: 12 deg"], { gauge: made }).gauge;
    expect(merged).toEqual({ ...made, name: "plunger" });
    // one unit against another agrees to the last digit but a rounding
    const thousandth = gauge({ resolution: inch(0.001), maximumPermissibleError: thou(1) });
    const lines = ["# gauge resolution: 0.0254 mm", "# gauge maximum permissible error: 25.4 um"];
    expect(
      parseSurvey([...frameLines, ...lines, ...table].join("\n"), { gauge: thousandth }).gauge.resolution.in("um"),
    ).toBeCloseTo(25.4, 12);
  });

  it("is refused where sheet and code differ in any field", () => {
    const differs = (line: string, more: Partial<Gauge>) =>
      said(() => read([line], { gauge: gauge({ resolution: um(1), maximumPermissibleError: um(4), ...more }) }));
    const end = "; make the two agree, or leave it out of the code";
    expect(differs("# gauge: plunger", { name: "lever" })).toBe(
      `said-twice: t: the sheet says name of the gauge is plunger and the code says lever${end}`,
    );
    expect(differs("# gauge lever angle: 12 deg", { leverAngle: deg(12.001) })).toBe(
      `said-twice: t: the sheet says leverAngle of the gauge is 12° and the code says 12.001°${end}`,
    );
    expect(
      differs("# gauge repeatability: 0.6 um with 9 degrees of freedom", {
        repeatability: { standardDeviation: um(0.6), degreesOfFreedom: 8 },
      }),
    ).toBe(
      `said-twice: t: the sheet says repeatability of the gauge is 0.6 µm with 9 degrees of freedom and the code says 0.6 µm with 8 degrees of freedom${end}`,
    );
    expect(
      differs("# gauge repeatability: 0.6 um with 9 degrees of freedom", {
        repeatability: { standardDeviation: um(0.61), degreesOfFreedom: 9 },
      }),
    ).toContain("is 0.6 µm with 9 degrees of freedom and the code says 0.61 µm with 9 degrees");
    expect(
      read(["# gauge repeatability: 0.0006 mm with 9 degrees of freedom"], {
        gauge: gauge({
          resolution: um(1),
          maximumPermissibleError: um(4),
          repeatability: { standardDeviation: um(0.6), degreesOfFreedom: 9 },
        }),
      }).gauge.repeatability?.degreesOfFreedom,
    ).toBe(9);
  });

  it.each<[line: string, sentence: string]>([
    [
      "# gauge display: round",
      'gauge: t line 1: "# gauge display: round" is not understood; write "digital" or "analogue"',
    ],
    [
      "# positive: up",
      'gauge: t line 1: "# positive: up" is not understood; write "surface stands high" or "surface stands low"',
    ],
    [
      "# positive: constructor",
      'gauge: t line 1: "# positive: constructor" is not understood; write "surface stands high" or "surface stands low"',
    ],
    [
      "# gauge fraction estimated: a fifth",
      'gauge: t line 1: "# gauge fraction estimated: a fifth" is not understood; write "0.2"',
    ],
    ...["0.6 um", "0.6 um with some degrees of freedom", "so 0.6 um with 9 degrees of freedom, about"].map(
      (text): [string, string] => [
        `# gauge repeatability: ${text}`,
        `gauge: t line 1: "# gauge repeatability: ${text}" is not understood; write "0.6 µm with 9 degrees of freedom"`,
      ],
    ),
    [
      "# gauge range per turn: 20 mm\n# gauge range: 10 mm",
      "gauge: t: gauge: range per turn 20 mm is more than the range 10 mm; exchange the two",
    ],
  ])("is refused where a line is not understood: %s", (line, sentence) => {
    expect(said(() => read(line.split("\n")))).toBe(sentence);
  });

  it("is refused where resolution or maximum permissible error is missing", () => {
    const missing =
      'gauge-missing: t: the sheet does not say which gauge was used; write above the heading "# gauge resolution: 1 µm" and "# gauge maximum permissible error: 4 µm", or give a gauge in code';
    for (const line of gaugeSaid)
      expect(said(() => parseSurvey([...frameLines, line, ...table].join("\n"), { name: "t" }))).toBe(missing);
  });
});

describe("a quantity as text", () => {
  it("has as few digits as give the very same value back, in the first unit that does", () => {
    expect(exactText("length", 0.0254)).toBe("25.4 mm");
    expect(exactText("length", 0)).toBe("0 mm");
    expect(exactText("length", 1e-6)).toBe("0.001 mm");
    expect(exactText("length", 3e-7)).toBe("0.3 um");
    expect(exactText("angle", deg(12).si)).toBe("12 deg");
    for (const si of [1 / 3, 2e-7 / 3, 1e-30, -0.1, 123456.789]) {
      const [value, unit] = exactText("length", si).split(" ") as [string, "mm"];
      const size = { mm: 1e-3, um: 1e-6, m: 1, nm: 1e-9, in: 0.0254 }[unit];
      expect(Number(value) * size!).toBeCloseTo(si, 14);
    }
    expect(exactText("length", 1e-30)).toBe("1e-30 m");
  });
});

describe("the frame of a sheet", () => {
  const frame = { relativeTo: "travel", front: "y-", plusX: "right", plusY: "back" } as const;
  const bare = (lines: readonly string[], options: ParseOptions = {}) =>
    parseSurvey([...lines, ...gaugeSaid, ...table].join("\n"), { name: "t", ...options });

  it("is the mirror image where +X and +Y turn the other way round", () => {
    // ISO 841: +X right with +Y back is right-handed seen from above
    const turns = [
      ["right", "back"],
      ["back", "left"],
      ["left", "front"],
      ["front", "right"],
    ] as const;
    for (const [plusX, plusY] of turns) {
      expect(isMirrored({ ...frame, plusX, plusY })).toBe(false);
      expect(isMirrored({ ...frame, plusX: plusY, plusY: plusX })).toBe(true);
    }
  });

  it("takes the edge either way round, in any letters", () => {
    expect(bare(["# relative to: Gravity", "# front: +X", "# +x: front", "# +y: right"]).frame).toEqual({
      relativeTo: "gravity",
      front: "x+",
      plusX: "front",
      plusY: "right",
    });
    expect(bare(["# relative to: artefact", "# front: -y", "# +x: left", "# +y: back"]).frame).toEqual({
      relativeTo: "artefact",
      front: "y-",
      plusX: "left",
      plusY: "back",
    });
  });

  it("may come from code in whole or in part, where the two agree", () => {
    expect(bare([], { frame }).frame).toEqual(frame);
    expect(bare(frameLines, { frame }).frame).toEqual(frame);
    expect(said(() => bare(frameLines, { frame: { ...frame, plusX: "left" } }))).toBe(
      'said-twice: t line 3: the sheet says "# +x: right" and the code says left; make the two agree, or leave it out of the code',
    );
  });

  it.each<[lines: string[], sentence: string]>([
    [
      [],
      'frame: t: the sheet does not say which way the map lies and what its heights are relative to; write above the heading "# relative to: travel" (or gravity, or artefact: what the heights are relative to), "# front: y-" (the edge where you stand: y- is where y is least), "# +x: right" (which way X grows, seen from the front), "# +y: back" (which way Y grows, seen from the front)',
    ],
    [
      ["# relative to: travel", "# front: z", "# +x: right", "# +y: back"],
      'frame: t line 2: "# front: z" is not known; write x-, x+, y- or y+',
    ],
    [
      ["# relative to: travel", "# front: y-", "# +x: up", "# +y: back"],
      'frame: t line 3: "# +x: up" is not known; write right, left, back or front',
    ],
    [
      ["# relative to: travel", "# front: x-", "# +x: right", "# +y: back"],
      "frame: t: front x-, +x right and +y back do not go together; with front x-, +x points back and the other axis right or left",
    ],
    [
      ["# relative to: travel", "# front: y+", "# +x: left", "# +y: back"],
      "frame: t: front y+, +x left and +y back do not go together; with front y+, +y points front and the other axis right or left",
    ],
    [
      ["# relative to: travel", "# front: y-", "# +x: front", "# +y: back"],
      "frame: t: front y-, +x front and +y back do not go together; with front y-, +y points back and the other axis right or left",
    ],
  ])("is refused: %#", (lines, sentence) => {
    expect(said(() => bare(lines))).toBe(sentence);
  });

  it("is accepted each way it can lie", () => {
    const lies = [
      ["y-", "right", "back"],
      ["y-", "left", "back"],
      ["y+", "right", "front"],
      ["y+", "left", "front"],
      ["x-", "back", "right"],
      ["x-", "back", "left"],
      ["x+", "front", "right"],
      ["x+", "front", "left"],
    ] as const;
    for (const [front, plusX, plusY] of lies) {
      expect(bare([], { frame: { relativeTo: "travel", front, plusX, plusY } }).frame.front).toBe(front);
    }
  });
});

describe("what else stands above the heading", () => {
  it("is kept: title, date, travel, temperatures, protocol, lines of its own, notes", () => {
    const survey = read([
      "# Title: bench",
      "# date: 2026-12-31",
      "# Zeroed:  at each pass ",
      "# TRAVEL_X: 0 to 520 mm",
      "# travel  y: -5.5 mm to 230 mm",
      "# temperature: 17.4 °C",
      "# temperature  table: 63 degF to 64 °F",
      "# temperature column:",
      "# vice: off",
      "# slide between places: 12 µm",
      "# Ground by: a friend: long ago",
      "# note: read: twice",
      "# note:",
      "# wiped with a rag",
      "#",
      "# removed: A1, pass 1: swarf: red",
    ]);
    expect(survey.title).toBe("bench");
    expect(survey.date).toBe("2026-12-31");
    expect(survey.otherLines).toEqual([["Ground by", "a friend: long ago"]]);
    expect(survey.notes).toEqual(["read: twice", "wiped with a rag"]);
    expect(survey.protocol).toEqual({ vice: "off", "slide between places": "12 µm" });
    expect(
      survey.temperatures.map(({ where, low, high, text }) => [where, low.in("degC"), high.in("degC"), text]),
    ).toEqual([
      ["", expect.closeTo(17.4, 9), expect.closeTo(17.4, 9), "17.4 °C"],
      ["table", expect.closeTo(17.2222, 4), expect.closeTo(17.7778, 4), "63 degF to 64 °F"],
    ]);
    expect(survey.removed).toEqual([{ place: "A1", pass: 1, reason: "swarf: red" }]);
    const lines = survey.toCsv().split("\n");
    expect(lines.slice(0, lines.indexOf("place,x/mm,y/mm,z/um,pass"))).toEqual([
      "# title: bench",
      "# date: 2026-12-31",
      "# relative to: travel",
      "# front: y-",
      "# +x: right",
      "# +y: back",
      "# gauge resolution: 0.001 mm",
      "# gauge maximum permissible error: 0.004 mm",
      "# zeroed: at each pass",
      "# vice: off",
      "# slide between places: 12 µm",
      "# temperature: 17.4 °C",
      "# temperature table: 63 degF to 64 °F",
      "# travel x: 0 mm to 520 mm",
      "# travel y: -5.5 mm to 230 mm",
      "# Ground by: a friend: long ago",
      "# note: read: twice",
      "# note: wiped with a rag",
      "# removed: A1, pass 1: swarf: red",
    ]);
    expect(parseSurvey(survey.toCsv())).toEqual(parseSurvey(parseSurvey(survey.toCsv()).toCsv()));
  });

  it("is unsaid where it is not written", () => {
    const survey = read([]);
    expect([survey.title, survey.date, survey.otherLines, survey.notes, survey.temperatures]).toEqual([
      undefined,
      undefined,
      [],
      [],
      [],
    ]);
    expect(survey.name).toBe("t");
    const own = parseSurvey(["# title: bench", ...frameLines, ...gaugeSaid, ...table].join("\n"));
    expect(own.name).toBe("bench");
    expect(parseSurvey([...frameLines, ...gaugeSaid, ...table].join("\n")).name).toBe("pasted sheet");
  });

  it("counts a span in the unit of its last end where the first has none", () => {
    const span = (text: string) => {
      const found = read([`# travel x: ${text}`]).toCsv();
      return /# travel x: (.*)/.exec(found)![1];
    };
    expect(span("0 to 0.5 m")).toBe("0 mm to 500 mm");
    expect(span("1 in to 2 in")).toBe("25.4 mm to 50.8 mm");
    expect(span("1in to 0.5 m")).toBe("25.4 mm to 500 mm");
    expect(span("-3 mm to 0.25 m")).toBe("-3 mm to 250 mm");
    // these two were refused
    expect(span("500 µm to 9 mm")).toBe("0.5 mm to 9 mm");
    expect(span('1" to 2"')).toBe("25.4 mm to 50.8 mm");
  });

  it.each<[line: string, sentence: string]>([
    [
      "# travel x: 5 mm to 5 mm",
      'span: t line 1: "# travel x: 5 mm to 5 mm" is not a span; write the least and the greatest position, like "0 to 520 mm"',
    ],
    [
      "# travel y: 9 to 5 mm",
      'span: t line 1: "# travel y: 9 to 5 mm" is not a span; write the least and the greatest position, like "0 to 520 mm"',
    ],
    [
      "# date: 2026-13-01",
      'date: t line 1: "# date: 2026-13-01" can be read two ways or not at all; write year-month-day, like 2026-10-17',
    ],
    [
      "# date: 2026-10-32",
      'date: t line 1: "# date: 2026-10-32" can be read two ways or not at all; write year-month-day, like 2026-10-17',
    ],
    [
      "# date: on 2026-10-30",
      'date: t line 1: "# date: on 2026-10-30" can be read two ways or not at all; write year-month-day, like 2026-10-17',
    ],
    [
      "# date: 2026-10-30, late",
      'date: t line 1: "# date: 2026-10-30, late" can be read two ways or not at all; write year-month-day, like 2026-10-17',
    ],
    ["# vice: off\n# Vice:  on", 'preamble-twice: t line 2: "# vice:" stands in line 1 already; leave one of the two'],
    [
      "# removed: A1: swarf",
      'removed-line: t line 1: "# removed: A1: swarf" is not understood; write "# removed: C4, pass 2: the reason"',
    ],
    [
      "# removed: A1, pass 1:",
      'removed-line: t line 1: "# removed: A1, pass 1:" is not understood; write "# removed: C4, pass 2: the reason"',
    ],
    [
      "# removed: A1, pass 2: swarf",
      "no-such-reading: t: A1, pass 2 is to be removed and has no reading; give a place and pass that was probed",
    ],
  ])("is refused: %s", (line, sentence) => {
    expect(said(() => read(line.split("\n")))).toBe(sentence);
  });

  it("names the line of a quantity that cannot be read", () => {
    expect(said(() => read(["# vice: off", "# temperature: 17"]))).toMatch(
      /^unknown-unit: t line 2: "# temperature:" temperature: "17" has no unit; use /,
    );
    expect(said(() => read(["# gauge range: wide"]))).toMatch(/^\S+: t line 1: "# gauge range:" length: "wide" /);
    expect(said(() => read(["# travel x: far to 520 mm"]))).toMatch(/^\S+: t line 1: "# travel x:" length: "far" /);
  });

  it("may stand in quotation marks, and end in the separators of a spreadsheet", () => {
    const text = (line: string) => preambleText(line, "t", 3);
    expect(text("# vice: off,;\t ")).toBe("vice: off");
    expect(text("  #vice: off, on")).toBe("vice: off, on");
    expect(text('"# note: a, ""b"",",,;')).toBe('note: a, "b",');
    expect(text('" # note: a "')).toBe("note: a");
    expect(text('"",,')).toBe("");
    expect(text('"')).toBe("");
    expect(said(() => text('"# note: a,,'))).toBe(
      'quotation-mark: t line 3: "\\"# note: a,," opens a quotation mark and does not close it at the end; close it, or leave it out',
    );
    expect(said(() => text('"# note" a,,'))).toBe(
      'quotation-mark: t line 3: "\\"# note\\" a,," opens a quotation mark and does not close it at the end; close it, or leave it out',
    );
    expect(["# a", ' "# a', "a # b", '""# a', ""].map(isPreamble)).toEqual([true, true, false, false, false]);
    expect(["", " ,;", '"",', "a", ",1,"].map(isRowOfBlanks)).toEqual([true, true, true, false, false]);
  });
});

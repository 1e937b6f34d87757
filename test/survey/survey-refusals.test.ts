import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import { expect, it } from "vitest";
import { deg, figure, gauge, mm, parseSurvey, seconds, survey, um } from "../../kernel-lib/src/index.js";
import { parseChecksums } from "../../kernel-lib/src/survey/checksums.js";
import { optionalPackage } from "../../kernel-lib/src/survey/optional-package.js";
import { aPlan } from "../display/a-plan.js";
import { clubTable } from "../figure/club-table.js";
import { refusal } from "../refusal.js";

const dial = gauge({ resolution: um(1), maximumPermissibleError: um(3) });
const sheet = readFileSync(resolve(import.meta.dirname, "../../data/table-before.csv"), "utf8");
const found = parseSurvey(sheet, { name: "table" });
const study = (more: object) =>
  survey.gaugeStudy({ readings: [1, 2].map((v) => ({ part: "A", value: um(v) })), ...more } as never);
const corner = "y/mm \\ x/mm z/um,0,40";
const grid = (...lines: string[]) =>
  parseSurvey(
    [
      "# relative to: travel",
      "# front: y-",
      "# +x: right",
      "# +y: back",
      "# positive: surface stands high",
      "# gauge resolution: 1 µm",
      "# gauge maximum permissible error: 3 µm",
      ...lines,
      "",
    ].join("\n"),
    { name: "g" },
  );

it.each<[act: () => unknown, sentence: string]>([
  [
    () => survey.gaugeInputs(dial, { readings: 0 }),
    "gaugeInputs: readings is 0; give the number of readings that the value is the mean of, 1 or more",
  ],
  [
    () => survey.gaugeInputs(dial, { approach: "any" as never }),
    'gaugeInputs: approach is "any"; write "same side" or "mixed"',
  ],
  [
    () => survey.gaugeInputs(dial, { reading: um(9), angleLimit: deg(31) }),
    "gaugeInputs: angleLimit is 31°; give 0° to 30°",
  ],
  [
    () => gauge({ resolution: um(1), maximumPermissibleError: um(3), display: "round" as never }),
    'gauge: display is "round"; write "digital" or "analogue"',
  ],
  [() => study({ sigmas: 3 }), "gaugeStudy: sigmas is 3; give 6 or 5.15, the two that are in use"],
  [
    () => study({ readings: [{ value: um(1) }] }),
    'gaugeStudy: reading 1 does not say which part it is of; give part: "C4"',
  ],
  [() => aPlan({ datumPlaces: 1 as never }), "plan: 1 datum places; give 2 or 3, as one sees no tilt"],
  [
    () => aPlan({ gauge: undefined as never }),
    "plan: the gauge is missing; make one with gauge({ resolution: um(1), maximumPermissibleError: um(4) })",
  ],
  [() => aPlan({ edge: 10 as never }), "plan: edge is 10; give a length of zero or more, such as mm(10)"],
  [() => aPlan({ timePerReading: 12 as never }), "plan: 12 is no time; give one such as seconds(12)"],
  [
    () => aPlan({ slots: [{ along: "z" as never, at: mm(40), width: mm(12) }] }),
    'plan: a slot runs along z; write "x" or "y"',
  ],
  [
    () => aPlan({ slots: [{ along: "x", at: 40 as never, width: mm(12) }] }),
    "plan: middle of a slot is 40; give a length, such as mm(40)",
  ],
  [
    () => aPlan({ pitch: mm(1), slots: [], holes: [], obstacles: [] }),
    "plan: 391 places along 390 mm at a pitch of 1 mm; plan 200 at most, or a part of the table",
  ],
  [() => survey.whereNext(clubTable(), { count: 0 } as never), "whereNext: 0 places; give a whole number from 1 to 50"],
  [
    () => figure.passDifferences(found, 9),
    "passDifferences: table has the passes 1, 2; give a later pass, or read every place once more",
  ],
  [
    () => found.withoutReading("D9", 1, "a").withoutReading("D9", 1, "b"),
    "withoutReading: D9, pass 1 is set aside already; leave out the second time",
  ],
  [
    () => parseSurvey(sheet.replace("# zeroed: once", "# zeroed: never"), { name: "t" }),
    't line 10: "# zeroed: never" is not known; write "once" or "at each pass"',
  ],
  [
    () => parseSurvey(sheet.replace("# travel x: 0 mm to 520 mm", "# travel x: wide"), { name: "t" }),
    't line 33: "# travel x: wide" is not a span; write the least and the greatest position, like "0 to 520 mm"',
  ],
  [
    () => parseSurvey(sheet.replace("# vice: off", "# removed: that one"), { name: "t" }),
    't line 27: "# removed: that one" is not understood; write "# removed: C4, pass 2: the reason"',
  ],
  [
    () => parseSurvey(sheet.replace("# vice: off", "# order: random"), { name: "t" }),
    't line 27: "# order: random" is not known; write "as written" or "unknown"',
  ],
  [
    () => grid(corner, "# pass: one", "0,1,2"),
    'g line 9: "# pass: one" is not a pass; write 1 for the first pass, 2 for the second',
  ],
  [
    () => grid(corner, "# note: x", "0,1,2"),
    'g line 9: "# note: x" stands below the heading; only "# pass: 2" may stand between two blocks',
  ],
  [
    () => grid("# pass: 1", corner, "0,1,2", "# pass: 1", corner, "0,1,2"),
    'g line 12: pass 1 has a block already; write "# pass: 2" above this one',
  ],
  [() => grid(corner), "g line 8: no row follows the heading of the grid; write y and its readings below it"],
  [
    () => grid("y/mm \\ x/ell z/um,0,40", "0,1,2"),
    'g line 8, column 1: "ell" is not a unit of length here; use m, mm, um, nm, in, thou or tenth',
  ],
  [
    () => grid("y/mm \\ x/mm z/um,,", "0,1,2"),
    "g line 8: no x stands in the heading of the grid; write the x of each column",
  ],
  [
    () => grid("y/mm \\ x/mm z/um,0,0", "0,1,2", "40,1,2"),
    "g line 8: x 0 stands twice in the grid; a grid has each x once a pass",
  ],
  [
    () => grid("y/mm \\ x/mm z/um,0,,40", "0,1,2,3"),
    "g line 8: the x or y of a grid line is blank; write where it stands",
  ],
  [
    () => grid(corner, "0,1", "40,1,2"),
    "g line 9: 2 cells, and the grid is wider; fill the row up, blank cells included",
  ],
  [
    () => survey.parseGaugeStudy("part,operator,value/um\nA,,1\nA,b,2\n", { name: "s" }),
    "s line 2, column operator: is blank; write who or when",
  ],
  [
    () => survey.parseGaugeStudy("operator,value/um\na,1\nb,2\n", { name: "s" }),
    's line 1: the heading "operator,value/um" lacks part; write part,operator,value/um',
  ],
  [() => survey.pitchFor(mm(40), 1), "plan: the chance of a miss is 1; give a number from 0 to below 1, such as 0.05"],
  [
    () => parseChecksums("name,sum\n"),
    'checksums.csv line 1: the heading is "name,sum"; it must be file,closed,sha256',
  ],
  [
    () => aPlan({ holes: [], obstacles: [], travel: {}, slots: [{ along: "x", at: mm(85), width: mm(150) }] }),
    "plan: slots leave fewer than two rows or columns to probe; choose a smaller pitch or clearance",
  ],
  [
    () => parseSurvey(sheet.replace(/^([A-F]\d+,\d+,\d+),[^,]*/gm, "$1,"), { name: "t" }).surface(),
    "t: no place has a reading left; put one back, or probe the places",
  ],
  [() => aPlan({ timePerWipe: seconds(-1) }), "plan: −0.0166667 min is no time; give one such as seconds(12)"],
  [
    () =>
      figure.passDifferences(
        grid("place,x/mm,y/mm,z/um,pass", "A1,0,0,1,1", "A2,40,0,1,1", "B1,0,40,1,2", "B2,40,40,1,2"),
      ),
    "passDifferences: g has no place with readings in both pass 1 and pass 2; read the same places in both",
  ],
  [
    () =>
      aPlan({ table: { x: [mm(0), mm(400)], y: [mm(0), mm(20.5)] }, slots: [], holes: [], obstacles: [], travel: {} }),
    "plan: 0.5 mm are too little for a grid; plan a larger part of the table",
  ],
  [
    () =>
      aPlan({
        ...{ table: { x: [mm(0), mm(400)], y: [mm(0), mm(150)] }, slots: [], holes: [], travel: {}, pitch: mm(130) },
        obstacles: [{ name: "vice", x: [mm(100), mm(400)], y: [mm(0), mm(150)] }],
      }),
    "plan: 2 places are left; at least 4 are needed, choose a smaller pitch or fewer obstacles",
  ],
  [
    () => survey.fromDataFrame([1, 2] as never, { name: "frame" }),
    "frame: is no data frame with named columns; give one made by danfojs-node",
  ],
  [
    () => optionalPackage(["no-such-package", "nor-this-one"], "reading an .xlsx workbook"),
    "reading an .xlsx workbook needs the package no-such-package, which is not installed; install it in the folder of the notebooks: npm install no-such-package",
  ],
  [
    () =>
      grid("place,x/mm,y/mm,z/um,pass", "A1,0,0,1,1", "A2,40,0,1,1", "B1,0,40,1,1", "B2,40,40,1,1").surfaceWithout({
        ...{ statement: "growth taken out", shiftUm: () => 1, doubtsUm: () => [1] },
      }),
    "g: not every reading has a time that runs on with the order of reading; what moved meanwhile can be taken out by the time of each reading only: read with a column time, or take the drift from the datum returns",
  ],
])("refuses with the whole sentence: %#", (act, sentence) => {
  expect(refusal(act).message).toBe(sentence);
});

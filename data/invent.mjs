// Invents the demonstration data of the Tinmoor Lane club workshop. Nothing here was measured: every figure is drawn
// from a planted truth and a seeded generator, and the truth is written to truth.json, which only tests and the
// appendix read.
//
//   node data/invent.mjs           writes the files
//   node data/invent.mjs --check   proves the committed files byte for byte
//
// Plain JavaScript that imports nothing of the package (planted.mjs beside it is its other half), so that the package cannot agree with itself.

import { createHash } from "node:crypto";
import { readFileSync, writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import {
  generator,
  planted,
  platePlaces,
  scenarioSeed,
  tablePlaces,
  trueHeight,
  trueHeightOfPlate,
} from "./planted.mjs";
import { axisTruth, inventAxis } from "./planted-axis.mjs";
import { gaugeTruth, inventGauge } from "./planted-gauge.mjs";
import { heatTruth, inventHeat } from "./planted-heat.mjs";
import { inventLevels, levelFacts } from "./planted-levels.mjs";
import { inventOdd, oddPlaces, oddTruth } from "./planted-odd.mjs";
import { inventRecord, recordFacts } from "./planted-record.mjs";

const datums = [
  { place: "datum 1", x: 260, y: 95 },
  { place: "datum 2", x: 60, y: 170 },
  { place: "datum 3", x: 460, y: 70 },
];

/** Serpentine order, a return to all datums at first, last and after every so many places. */
function walk(places, every) {
  const byRow = new Map();
  for (const p of places) byRow.set(p.y, [...(byRow.get(p.y) ?? []), p]);
  const path = [...byRow.values()].flatMap((row, i) => (i % 2 === 0 ? row : row.toReversed()));
  const stops = datums.map((d) => ({ ...d, datum: true }));
  return [...stops, ...path.flatMap((p, i) => ((i + 1) % every === 0 || i + 1 === path.length ? [p, ...stops] : [p]))];
}

/** The evening at the machine: time runs on, the spindle warms, the gauge has its own error, the eye rounds to 1 µm. */
function* readingsOf({ truth, draw, places, every, start, height, startUm = 0, warm = 1, special = {} }) {
  let minutes = 0;
  const drift = () => warm * truth.warmUp.riseUm * (1 - Math.exp(-minutes / truth.warmUp.timeConstantMin));
  const gaugeErrorAt = (z) =>
    truth.gaugeError.amplitudeUm * Math.sin((2 * Math.PI * z) / truth.gaugeError.periodUm + truth.gaugeError.phase);
  const zero = height(datums[0].x, datums[0].y) - startUm;
  let order = 0;
  for (const pass of [1, 2]) {
    for (const stop of walk(places, every)) {
      for (let i = 0; i < (stop.datum ? 3 : 1); i++) {
        minutes += (stop.datum ? 9 : 21) / 60;
        order += 1;
        const swarf = special.swarf?.place === stop.place && special.swarf.pass === pass ? special.swarf.heightUm : 0;
        const at = height(stop.x, stop.y) - zero + drift() + swarf;
        const z = Math.round(at + gaugeErrorAt(at) + truth.noiseUm * draw.normal());
        const blank = special.notProbed === stop.place;
        const note = blank ? "drilled hole; not probed" : "";
        yield { ...stop, z: blank ? "" : String(z === 0 ? 0 : z), pass, order, time: clock(start, minutes), note };
      }
    }
    minutes += 4;
  }
}

function clock(start, minutes) {
  const [h, m] = start.split(":").map(Number);
  const total = Math.floor(h * 3600 + m * 60 + minutes * 60);
  const part = (n) => String(n).padStart(2, "0");
  return `${part(Math.floor(total / 3600))}:${part(Math.floor(total / 60) % 60)}:${part(total % 60)}`;
}

/** what stands on every sheet of this machine */
function preamble({ title, date, temperature, slide }) {
  return [
    `# title: ${title}`,
    "# workshop: Tinmoor Lane club workshop, invented",
    "# machine: second-hand bed mill, invented; travels X 520 mm, Y 230 mm, Z 380 mm; table 780 × 240 mm, T-slots along X at y 45, 120 and 195 mm",
    `# date: ${date}`,
    "# relative to: travel",
    "# front: y-",
    "# +x: right",
    "# +y: back",
    "# positive: surface stands high",
    "# zeroed: once",
    "# gauge: plunger dial indicator, invented",
    "# gauge display: analogue",
    "# gauge resolution: 2 µm",
    "# gauge fraction estimated: 0.5",
    "# gauge range: 1 mm",
    "# gauge range per turn: 0.2 mm",
    "# gauge maximum permissible error: 4 µm",
    "# gauge hysteresis: 1 µm",
    "# burrs stoned: yes",
    "# top wiped: at each pass",
    "# stylus preloaded: yes, 0.1 mm",
    "# spindle: locked, not turned",
    "# quill: in and locked",
    "# head: at the height of the cut, locked",
    "# locks: gibs and axis locks as in the cut, the same throughout",
    "# approach: from the left",
    "# vice: off",
    "# places: off slots and holes, 10 mm from edges",
    `# slide between places: ${slide}`,
    "# feet: tight, checked with the table at both ends",
    `# temperature table: ${temperature}`,
    "# thermometers: table centre and column, read at each pass",
    "# travel x: 0 mm to 520 mm",
    "# travel y: 5 mm to 235 mm",
  ];
}

function listSheet(head, readings, temperatures) {
  const lines = [...head, "place,x/mm,y/mm,z/um,pass,order,time,temperature/degC,note"];
  const all = [...readings];
  for (const r of all) {
    const [from, to] = temperatures;
    const warm = (from + ((to - from) * r.order) / all.length).toFixed(1);
    lines.push([r.place, r.x, r.y, r.z, r.pass, r.order, r.time, warm, r.note].join(","));
  }
  return `${lines.join("\n")}\n`;
}

/** The corner again, finer, as a grid on paper: x across the top, y down the side, a block a pass. */
function gridSheet(head, truth, draw) {
  const xs = [30, 40, 50, 60, 70, 80, 90, 100];
  const ys = [10, 15, 20, 25, 30, 35];
  const lines = [...head];
  const zero = trueHeight(truth, 100, 10);
  for (const pass of [1, 2]) {
    lines.push(`# pass: ${pass}`, ["y/mm \\ x/mm z/um", ...xs].join(","));
    for (const y of ys) {
      const heights = xs.map((x) => {
        const at = trueHeight(truth, x, y) - zero;
        const z = Math.round(at + truth.noiseUm * draw.normal());
        return String(z === 0 ? 0 : z);
      });
      lines.push([y, ...heights].join(","));
    }
  }
  return `${lines.join("\n")}\n`;
}

function blankSheet() {
  const head = preamble({ title: "", date: "", temperature: "", slide: "" });
  const kept = /^# (relative to|front|\+x|\+y|positive|zeroed):/;
  const lines = head.map((line) => (kept.test(line) ? line : line.replace(/: .*$/, ":").replace(/:\s*$/, ":")));
  lines.push("place,x/mm,y/mm,z/um,pass,order,time,temperature/degC,note");
  const places = [20, 70, 120, 170, 220].flatMap((y, row) =>
    [20, 100, 180, 260, 340, 420, 500].map((x, column) => ({ place: `${"ABCDE"[row]}${column + 1}`, x, y })),
  );
  let order = 0;
  for (const pass of [1, 2]) {
    for (const stop of walk(places, 14)) {
      for (let i = 0; i < (stop.datum ? 3 : 1); i++)
        lines.push(`${stop.place},${stop.x},${stop.y},,${pass},${++order},,,`);
    }
  }
  return `${lines.join("\n")}\n`;
}

function heights(places, height) {
  return places.map(({ place, x, y }) => ({ place, xMm: x, yMm: y, zUm: Math.round(height(x, y) * 1000) / 1000 }));
}

/** All files of one seed as texts by name, and the truth they were drawn from. */
export function invent(seed = scenarioSeed) {
  const truth = planted(seed);
  const draw = generator(seed);
  const before = (x, y) => trueHeight(truth, x, y);
  const stoned = (x, y) => trueHeight(truth, x, y, Math.min(truth.stonedRimUm, truth.ding.rimHeightUm));
  const plate = (x, y) => trueHeightOfPlate(truth, x, y);
  const special = { swarf: truth.swarf, notProbed: truth.notProbed };
  const table = { truth, draw, places: tablePlaces(), every: 26, start: "19:10" };
  const sheets = {
    "table-before.csv": listSheet(
      preamble({
        title: "table of the bed mill, before any work",
        date: "2026-10-17",
        temperature: "17.4 °C to 18.1 °C",
        slide: "largest swing 60 µm at the left front near A2, up over a rim and down into a pit",
      }),
      readingsOf({ ...table, height: before, special }),
      [17.4, 18.1],
    ),
    "corner-check-grid.csv": gridSheet(
      preamble({
        title: "left front corner, 10 × 5 mm pitch",
        date: "2026-10-18",
        temperature: "17.8 °C",
        slide: "largest swing 60 µm near x 62 mm, y 27 mm",
      }),
      truth,
      draw,
    ),
    "table-stoned.csv": listSheet(
      preamble({
        title: "table after the rim was stoned",
        date: "2026-10-24",
        temperature: "17.9 °C to 18.2 °C",
        slide: "largest swing 40 µm, down into the pit at the left front",
      }),
      readingsOf({ ...table, height: stoned, warm: 0.5, special: { notProbed: truth.notProbed } }),
      [17.9, 18.2],
    ),
    "plate-faced.csv": listSheet(
      preamble({
        title: "fixture plate, faced in place",
        date: "2026-11-07",
        temperature: "18.6 °C to 18.8 °C",
        slide: "largest swing 3 µm",
      }),
      readingsOf({ ...table, places: platePlaces(), every: 25, height: plate, warm: 0.4 }),
      [18.6, 18.8],
    ),
  };
  const facts = {
    invented: true,
    ...truth,
    heights: {
      "table-before.csv": heights(tablePlaces(), before),
      "table-stoned.csv": heights(tablePlaces(), stoned),
      "plate-faced.csv": heights(platePlaces(), plate),
      "odd-first.csv": heights(oddPlaces(), before),
    },
    between: { middleUm: before(300, 130), gapUm: before(195, 84) },
  };
  return { sheets, truth: facts };
}

function checksum(text) {
  return createHash("sha256").update(text, "utf8").digest("hex");
}

/** Every committed file this script owns. */
function committed() {
  const { sheets, truth } = invent();
  const closed = {
    "table-before.csv": "2026-10-17",
    "corner-check-grid.csv": "2026-10-18",
    "table-stoned.csv": "2026-10-24",
    "plate-faced.csv": "2026-11-07",
  };
  const others = {
    ...inventAxis(),
    ...inventHeat(),
    ...inventLevels(),
    ...inventGauge(),
    ...inventOdd(),
    ...inventRecord(sheets["table-stoned.csv"]),
  };
  for (const [file, sheet] of Object.entries(others)) {
    sheets[file] = sheet.text;
    closed[file] = sheet.closed;
  }
  truth.axis = axisTruth;
  truth.heat = heatTruth;
  truth.levels = levelFacts();
  truth.gauge = gaugeTruth;
  truth.odd = oddTruth;
  truth.record = recordFacts();
  const sums = Object.entries(closed).map(([file, date]) => `${file},${date},${checksum(sheets[file])}`);
  return {
    ...sheets,
    "blank-sheet.csv": blankSheet(),
    "truth.json": `${JSON.stringify(truth, null, 1)}\n`,
    "checksums.csv": `file,closed,sha256\n${sums.join("\n")}\n`,
  };
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const wrong = [];
  for (const [name, text] of Object.entries(committed())) {
    const path = fileURLToPath(new URL(name, import.meta.url));
    if (!process.argv.includes("--check")) writeFileSync(path, text);
    else if (readFileSync(path, "utf8") !== text) wrong.push(name);
  }
  if (wrong.length > 0) {
    console.error(`data/invent.mjs: ${wrong.join(", ")} differ from what the script invents; run node data/invent.mjs`);
    process.exitCode = 1;
  }
}

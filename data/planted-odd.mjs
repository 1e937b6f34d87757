// Three surveys of the invented Tinmoor Lane club workshop in which something went wrong, and the same put right.
// Plain JavaScript that imports nothing of the package.

import { generator, planted, scenarioSeed, trueHeight } from "./planted.mjs";

/** What was planted in each of the three, heights in µm. */
export const oddTruth = {
  noiseUm: 0.9,
  swarf: { place: "C5", pass: 2, heightUm: 32 },
  /** the stand slips in its clamp while pass 2 is read */
  slip: { pass: 2, from: "C4", heightUm: -26 },
  inch: { writtenIn: "thou", stepThou: 0.1 },
};

const rows = [70, 95, 145, 170];
const columns = [60, 130, 200, 270, 340, 410, 480];
const datums = [
  { place: "datum 1", x: 270, y: 95, datum: true },
  { place: "datum 2", x: 130, y: 170, datum: true },
  { place: "datum 3", x: 410, y: 70, datum: true },
];

export function oddPlaces() {
  return rows.flatMap((y, row) => columns.map((x, column) => ({ place: `${"ABCD"[row]}${column + 1}`, x, y })));
}

/** serpentine, a return to the datums at first, in the middle and at last */
function walk() {
  const path = rows.flatMap((y, row) => {
    const line = columns.map((x, column) => ({ place: `${"ABCD"[row]}${column + 1}`, x, y }));
    return row % 2 === 0 ? line : line.toReversed();
  });
  return [...datums, ...path.slice(0, 14), ...datums, ...path.slice(14), ...datums];
}

const thou = 25.4;

/** One survey; `what` says what goes wrong in it. */
function sheet({ title, date, temperature, seed, unit = "um", heading = unit, what = {} }) {
  const truth = planted(scenarioSeed);
  const draw = generator(seed);
  const zero = trueHeight(truth, datums[0].x, datums[0].y);
  let order = 0;
  const lines = [];
  for (const pass of [1, 2]) {
    let slipped = false;
    for (const stop of walk()) {
      if (what.slip?.pass === pass && what.slip.from === stop.place) slipped = true;
      const swarf = what.swarf?.place === stop.place && what.swarf.pass === pass ? what.swarf.heightUm : 0;
      for (let i = 0; i < (stop.datum ? 3 : 1); i++) {
        order += 1;
        const height =
          trueHeight(truth, stop.x, stop.y) - zero + 0.012 * order + swarf + (slipped ? what.slip.heightUm : 0);
        const seen = height + oddTruth.noiseUm * draw.normal();
        lines.push([stop.place, stop.x, stop.y, written(seen, unit), pass, order].join(","));
      }
    }
  }
  return `${[...preamble({ title, date, temperature, unit }), `place,x/mm,y/mm,z/${heading},pass,order`, ...lines].join("\n")}\n`;
}

function written(seenUm, unit) {
  const value = unit === "um" ? Math.round(seenUm) : Math.round((seenUm / thou) * 10) / 10;
  return value === 0 ? 0 : value;
}

function preamble({ title, date, temperature, unit }) {
  const gauge =
    unit === "um"
      ? [
          "# gauge: plunger dial indicator, invented",
          "# gauge resolution: 2 µm",
          "# gauge fraction estimated: 0.5",
          "# gauge maximum permissible error: 4 µm",
        ]
      : [
          "# gauge: inch plunger dial indicator of a member, invented",
          "# gauge resolution: 0.0001 in",
          "# gauge fraction estimated: 1",
          "# gauge maximum permissible error: 0.0002 in",
        ];
  return [
    `# title: ${title}`,
    "# workshop: Tinmoor Lane club workshop, invented",
    "# machine: second-hand bed mill, invented",
    `# date: ${date}`,
    "# relative to: travel",
    "# front: y-",
    "# +x: right",
    "# +y: back",
    "# positive: surface stands high",
    "# zeroed: once",
    ...gauge,
    "# gauge display: analogue",
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
    "# slide between places: largest swing 4 µm inside the grid",
    "# feet: tight, checked with the table at both ends",
    `# temperature table: ${temperature}`,
    "# thermometers: table centre and column, read at each pass",
    "# travel x: 0 mm to 520 mm",
    "# travel y: 5 mm to 235 mm",
  ];
}

/** sheets by name, each with the date it was closed */
export function inventOdd() {
  const { swarf, slip } = oddTruth;
  const first = {
    title: "middle of the table, first evening",
    date: "2026-09-19",
    temperature: "18.4 °C",
    seed: 20260919,
  };
  const second = {
    title: "middle of the table, second evening",
    date: "2026-09-20",
    temperature: "18.2 °C",
    seed: 20260920,
  };
  const again = {
    title: "middle of the table, second evening read again",
    date: "2026-09-27",
    temperature: "18.0 °C",
    seed: 20260927,
  };
  const third = {
    title: "middle of the table, third evening",
    date: "2026-09-26",
    temperature: "18.1 °C",
    seed: 20260926,
    unit: "thou",
  };
  return {
    "odd-first.csv": { text: sheet({ ...first, what: { swarf } }), closed: first.date },
    "odd-second.csv": { text: sheet({ ...second, what: { slip } }), closed: second.date },
    "odd-second-again.csv": { text: sheet(again), closed: again.date },
    "odd-third.csv": { text: sheet({ ...third, heading: "um" }), closed: third.date },
    "odd-third-corrected.csv": { text: sheet(third), closed: "2026-09-28" },
  };
}

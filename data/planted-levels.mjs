// Level surveys, a spindle sweep and a square on the invented bed mill: the planted truth and the sheets drawn from it.
// Plain JavaScript that imports nothing of the package.

import { generator, planted, scenarioSeed, trueHeight } from "./planted.mjs";

/** The truth. Heights in µm, places in mm, inclinations in µm/m; angles of axes and square from 90° in µm/m. */
export const levelTruth = {
  level: { zeroUmPerM: 14, noiseUmPerM: 2.5, divisionUmPerM: 20, readTo: 0.2 },
  travel: { tiltXUmPerM: -24, tiltYUmPerM: 29, archAlongXUm: 7, twistCornerUm: -3 },
  misread: { line: "row 95", step: 4, direction: "as marked", byDivisions: 1 },
  plate: { hollowUm: 5, twistCornerUm: 3, crossBowUm: 1.5, tiltXUmPerM: 35, tiltYUmPerM: -12 },
  sweep: { xMm: 260, yMm: 132, radiusMm: 100, leanXUmPerM: 66, leanYUmPerM: 99, noiseUm: 0.8 },
  square: { axesUmPerM: 45, squareUmPerM: -12, noiseUm: 0.7 },
};

/** Path of the travel against gravity, as it lies over the table: an arch along X, a twist, a tilt. */
export function trueTravel({ tiltXUmPerM, tiltYUmPerM, archAlongXUm, twistCornerUm }, x, y) {
  const u = (x - 260) / 240;
  const v = (y - 120) / 100;
  const tilt = (tiltXUmPerM * (x - 260) + tiltYUmPerM * (y - 120)) / 1000;
  return tilt + archAlongXUm * (1 - u * u) + (twistCornerUm / 4) * u * v;
}

const truth = planted(scenarioSeed);

/** Height of the table itself against gravity: what the indicator sees, and the path that it sees it from. */
export function trueTableByGravity(x, y) {
  return trueHeight(truth, x, y) + trueTravel(levelTruth.travel, x, y);
}

/** Height of the club's marking-off plate against gravity. */
export function truePlate(x, y) {
  const { hollowUm, twistCornerUm, crossBowUm, tiltXUmPerM, tiltYUmPerM } = levelTruth.plate;
  const [u, v] = [(x - 320) / 320, (y - 240) / 240];
  const bows = hollowUm * (u * u - 1) + crossBowUm * (1 - v * v);
  return (tiltXUmPerM * (x - 320) + tiltYUmPerM * (y - 240)) / 1000 + bows + (twistCornerUm / 4) * u * v;
}

const tableLines = [
  ...[20, 95, 170].map((y) => ({ line: `row ${y}`, ends: [20, y, 500, y], foot: 80 })),
  ...[20, 100, 180, 260, 340, 420, 500].map((x) => ({ line: `column ${x}`, ends: [x, 20, x, 170], foot: 75 })),
];

const plateLines = [
  ["front", 0, 0, 640, 0],
  ["back", 0, 480, 640, 480],
  ["left", 0, 0, 0, 480],
  ["right", 640, 0, 640, 480],
  ["rising diagonal", 0, 0, 640, 480],
  ["falling diagonal", 0, 480, 640, 0],
  ["middle along x", 0, 240, 640, 240],
  ["middle along y", 320, 0, 320, 480],
].map(([line, ...ends]) => ({ line, ends, foot: 80 }));

const workshop = "# workshop: Tinmoor Lane club workshop, invented";
const usualFrame = ["# front: y-", "# +x: right", "# +y: back"];

function levelSheet({ head, lines, height, draw, misread }) {
  const { zeroUmPerM, noiseUmPerM, divisionUmPerM, readTo } = levelTruth.level;
  const rows = lines.flatMap(({ line, ends: [x0, y0, x1, y1], foot }) => {
    const steps = Math.round(Math.hypot(x1 - x0, y1 - y0) / foot);
    const at = (i) => height(x0 + ((x1 - x0) * i) / steps, y0 + ((y1 - y0) * i) / steps);
    return ["as marked", "turned"].flatMap((direction) =>
      Array.from({ length: steps }, (_, i) => {
        const rise = ((at(i + 1) - at(i)) / foot) * 1000 * (direction === "turned" ? -1 : 1);
        const seen = (rise + zeroUmPerM + noiseUmPerM * draw.normal()) / divisionUmPerM;
        const isMisread = misread?.line === line && misread.step === i + 1 && misread.direction === direction;
        const read = Math.round(seen / readTo) * readTo + (isMisread ? misread.byDivisions : 0);
        return [line, i + 1, direction, read.toFixed(1).replace("-0.0", "0.0"), ""].join(",");
      }),
    );
  });
  const ends = lines.flatMap(({ line, ends: [x0, y0, x1, y1], foot }) => [
    `# line ${line}: ${x0}, ${y0} to ${x1}, ${y1}`,
    `# foot of line ${line}: ${foot} mm`,
  ]);
  return `${[...head, ...ends, "line,step,direction,reading/div,note", ...rows].join("\n")}\n`;
}

const levelHead = ({ title, date, still, temperature }) => [
  `# title: ${title}`,
  workshop,
  `# date: ${date}`,
  "# relative to: gravity",
  ...usualFrame,
  "# level: block level, division 20 µm/m, invented",
  "# division: 20 µm/m",
  "# level resolution: 4 µm/m",
  "# level maximum permissible error: 10 µm/m",
  `# stood still: ${still}`,
  "# stood at: one place in front, nobody walked while the bubble settled",
  "# feet of the level: wiped at each step, two feet on a bridge set with blocks",
  `# temperature: ${temperature}`,
];

function sweepSheet(draw) {
  const { xMm, yMm, radiusMm, leanXUmPerM, leanYUmPerM, noiseUm } = levelTruth.sweep;
  // the table stands still: the stylus sees the table itself, not what the travel adds to it; only the tilts are held to the travel
  const bent = { ...levelTruth.travel, tiltXUmPerM: 0, tiltYUmPerM: 0 };
  const seen = (angle) => {
    const [dx, dy] = [Math.cos, Math.sin].map((f) => radiusMm * f((angle * Math.PI) / 180));
    const [x, y] = [xMm + dx, yMm + dy];
    return (leanXUmPerM * dx + leanYUmPerM * dy) / 1000 + trueHeight(truth, x, y) + trueTravel(bent, x, y);
  };
  const rows = [1, 2].flatMap((turn) =>
    [0, 45, 90, 135, 180, 225, 270, 315].map((angle) => {
      const read = Math.round(seen(angle) - seen(0) + noiseUm * draw.normal());
      return [angle, read === 0 ? 0 : read, turn].join(",");
    }),
  );
  const head = [
    "# title: head of the bed mill, before any work",
    workshop,
    "# date: 2026-10-21",
    "# gauge: plunger dial indicator, invented",
    "# gauge display: analogue",
    "# gauge resolution: 2 µm",
    "# gauge fraction estimated: 0.5",
    "# gauge maximum permissible error: 4 µm",
    "# positive: surface stands high",
    `# radius: ${radiusMm} mm`,
    "# radius within: 1 mm",
    `# centre: ${xMm}, ${yMm}`,
    "# over: one ground block slid under the stylus on the lands of the table",
    "# height: head at the height of the cut, quill in and locked",
    "# spindle: machine unplugged, in neutral, turned by hand",
  ];
  return `${[...head, "angle/deg,reading/um,turn", ...rows].join("\n")}\n`;
}

function squareSheet(draw) {
  const { axesUmPerM, squareUmPerM, noiseUm } = levelTruth.square;
  const laid = { first: 8, second: -9 };
  const rows = [
    ["as laid", 1],
    ["turned over", -1],
  ].flatMap(([way, sign]) => {
    // first leg turned by how the square lies; the second is off the perpendicular by axes less square
    const first = way === "as laid" ? laid.first : laid.second;
    const second = first - axesUmPerM + sign * squareUmPerM;
    return [
      ["first", first],
      ["second", second],
    ].flatMap(([leg, slope]) =>
      [10, 40, 70, 100, 130, 160, 190].map((at) => {
        const read = Math.round((slope * (at - 10)) / 1000 + noiseUm * draw.normal());
        return [leg, way, at, read === 0 ? 0 : read].join(",");
      }),
    );
  });
  const head = [
    "# title: Y to X",
    workshop,
    "# date: 2026-10-21",
    "# gauge: lever dial indicator, invented",
    "# gauge display: digital",
    "# gauge resolution: 1 µm",
    "# gauge maximum permissible error: 2 µm",
    "# positive: surface stands high",
    "# square: 200 mm, unhardened, invented; turned over about its first leg for the second half",
    "# signs: positive where the leg, going along it, bends counter-clockwise off the motion seen from above",
  ];
  return `${[...head, "leg,way,at/mm,reading/um", ...rows].join("\n")}\n`;
}

/** sheets by name, each with the date it was closed */
export function inventLevels() {
  return {
    "levels-table.csv": {
      text: levelSheet({
        head: levelHead({
          title: "table of the bed mill by level",
          date: "2026-10-20",
          still: "table in the middle of its travel, locked; machine on its feet as in use",
          temperature: "17.9 °C",
        }),
        lines: tableLines,
        height: trueTableByGravity,
        draw: generator(20261020),
        misread: levelTruth.misread,
      }),
      closed: "2026-10-20",
    },
    "levels-plate.csv": {
      text: levelSheet({
        head: levelHead({
          title: "marking-off plate of the club, union jack",
          date: "2026-10-20",
          still: "plate on its three feet",
          temperature: "18.0 °C",
        }),
        lines: plateLines,
        height: truePlate,
        draw: generator(20261022),
      }),
      closed: "2026-10-20",
    },
    "sweep-head.csv": { text: sweepSheet(generator(20261021)), closed: "2026-10-21" },
    "square-y-to-x.csv": { text: squareSheet(generator(20261023)), closed: "2026-10-21" },
  };
}

/** The truth with the heights of every place of the level sheets, about nothing: against gravity, in µm. */
export function levelFacts() {
  const places = (lines, height) => {
    const found = new Map();
    for (const {
      ends: [x0, y0, x1, y1],
      foot,
    } of lines) {
      const steps = Math.round(Math.hypot(x1 - x0, y1 - y0) / foot);
      for (let i = 0; i <= steps; i++) {
        const [xMm, yMm] = [x0 + ((x1 - x0) * i) / steps, y0 + ((y1 - y0) * i) / steps];
        found.set(`${xMm} ${yMm}`, { xMm, yMm, zUm: Math.round(height(xMm, yMm) * 1000) / 1000 });
      }
    }
    return [...found.values()];
  };
  return {
    ...levelTruth,
    heights: {
      "levels-table.csv": places(tableLines, trueTableByGravity),
      "levels-plate.csv": places(plateLines, truePlate),
      "travel over the table": places(tableLines, (x, y) => trueTravel(levelTruth.travel, x, y)),
    },
  };
}

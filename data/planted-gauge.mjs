// The trial of the dial indicator at the invented Tinmoor Lane club workshop: the planted truth and the sheets drawn from it.
// Plain JavaScript that imports nothing of the package.

import { generator, planted, scenarioSeed, tablePlaces, trueHeight } from "./planted.mjs";

/** The truth of the trial. Readings and offsets in µm. */
export const gaugeTruth = {
  repeatUm: 0.9,
  /** what a day adds to every reading of that day: the stand set up anew, the shed at another warmth */
  dayOffsetsUm: { "Saturday 10th": 0.4, "Sunday 11th": 2.3, "Wednesday 14th": -1.8 },
  places: ["A7", "A13", "B1", "B10", "C4", "C12", "D7", "E2", "E10", "F13"],
  lever: { stepUm: 120, angleDeg: 35, repeatUm: 0.8 },
};

const head = ({ title, date, how }) => [
  `# title: ${title}`,
  "# workshop: Tinmoor Lane club workshop, invented",
  `# date: ${date}`,
  ...how,
];

const plunger = [
  "# gauge: plunger dial indicator, invented",
  "# gauge display: analogue",
  "# gauge resolution: 2 µm",
  "# gauge fraction estimated: 0.5",
  "# gauge range: 1 mm",
  "# gauge range per turn: 0.2 mm",
  "# gauge maximum permissible error: 4 µm",
  "# gauge hysteresis: 1 µm",
  "# positive: surface stands high",
];

const round = (value) => {
  const whole = Math.round(value);
  return whole === 0 ? 0 : whole;
};

/** Height of a place against datum 1 as this gauge shows it: its own error of the reading is in it, its scatter is not. */
function shownHeights(truth) {
  const zero = trueHeight(truth, 260, 95);
  const all = new Map(tablePlaces().map(({ place, x, y }) => [place, trueHeight(truth, x, y) - zero]));
  const { amplitudeUm, periodUm, phase } = truth.gaugeError;
  return gaugeTruth.places.map((place) => {
    const at = all.get(place);
    return { place, um: at + amplitudeUm * Math.sin((2 * Math.PI * at) / periodUm + phase) };
  });
}

function oneEvening(heights, draw) {
  const rows = [1, 2, 3].flatMap((repeat) =>
    heights.map(({ place, um }) => `${place},${repeat},${round(um + gaugeTruth.repeatUm * draw.normal())}`),
  );
  const how = [
    "# tolerance: 16 µm",
    "# reader: one person, one set-up; ten places in turn, three times round, zeroed once",
    ...plunger,
  ];
  const lines = head({ title: "ten places, one evening", date: "2026-10-09", how });
  return `${[...lines, "place,repeat,value/um", ...rows].join("\n")}\n`;
}

function threeDays(heights, draw) {
  const days = Object.entries(gaugeTruth.dayOffsetsUm);
  const rows = days.flatMap(([day, offset]) =>
    [1, 2, 3].flatMap((repeat) =>
      heights.map(
        ({ place, um }) => `${place},${day},${repeat},${round(um + offset + gaugeTruth.repeatUm * draw.normal())}`,
      ),
    ),
  );
  const how = [
    "# tolerance: 16 µm",
    "# reader: the same person; stand taken off and set up anew each day, zeroed once a day at datum 1",
    ...plunger,
  ];
  const lines = head({ title: "ten places, three days", date: "2026-10-10 to 2026-10-14", how });
  return `${[...lines, "place,day,repeat,value/um", ...rows].join("\n")}\n`;
}

/** A step between two surfaces, read by a lever with its stylus flat and with it inclined. */
function leverSheet(draw) {
  const { stepUm, angleDeg, repeatUm } = gaugeTruth.lever;
  const shown = { flat: stepUm, inclined: stepUm / Math.cos((angleDeg * Math.PI) / 180) };
  const rows = Array.from({ length: 8 }, (_, i) => i + 1).flatMap((repeat) =>
    Object.entries(shown).map(([how, um]) => `${how},${repeat},${round(um + repeatUm * draw.normal())}`),
  );
  const how = [
    "# step: the same step between two ground surfaces each time; eight times with the stylus flat, eight with it inclined",
    "# gauge: lever dial indicator, invented",
    "# gauge display: analogue",
    "# gauge resolution: 2 µm",
    "# gauge fraction estimated: 0.5",
    "# gauge range: 0.2 mm",
    "# gauge maximum permissible error: 3 µm",
  ];
  const lines = head({ title: "one step, stylus flat and inclined", date: "2026-10-09", how });
  return `${[...lines, "part,repeat,value/um", ...rows].join("\n")}\n`;
}

/** sheets by name, each with the date it was closed */
export function inventGauge() {
  const heights = shownHeights(planted(scenarioSeed));
  return {
    "gauge-one-evening.csv": { text: oneEvening(heights, generator(20261009)), closed: "2026-10-09" },
    "gauge-three-days.csv": { text: threeDays(heights, generator(20261010)), closed: "2026-10-14" },
    "gauge-lever.csv": { text: leverSheet(generator(20261008)), closed: "2026-10-09" },
  };
}

// The warm-up record of the invented bed mill's spindle: the planted truth and the sheet drawn from it.
// Plain JavaScript that imports nothing of the package.

import { generator } from "./planted.mjs";

/** The truth. Growth towards the table in µm, warmth in K, times in minutes; the spindle is stopped at `stoppedMin`. */
export const heatTruth = {
  nose: { riseUm: 23, warmUpMin: 41, coolDownMin: 66, noiseUm: 0.5 },
  headstock: { startC: 17.9, riseK: 7.4, warmUpMin: 58, coolDownMin: 85, noiseK: 0.06 },
  room: { startC: 17.6, riseKPerHour: 0.1, noiseK: 0.05 },
  stoppedMin: 180,
  lastMin: 360,
};

/** What warms up until the spindle is stopped and cools down from there. */
export function settled(rise, warmUpMin, coolDownMin, minute) {
  const { stoppedMin } = heatTruth;
  const warm = rise * (1 - Math.exp(-Math.min(minute, stoppedMin) / warmUpMin));
  return minute <= stoppedMin ? warm : warm * Math.exp(-(minute - stoppedMin) / coolDownMin);
}

function clock(minute) {
  const total = 13 * 60 + 30 + minute;
  return `${String(Math.floor(total / 60)).padStart(2, "0")}:${String(total % 60).padStart(2, "0")}`;
}

/** minutes at which was read: often while much happens */
function moments() {
  const { stoppedMin, lastMin } = heatTruth;
  const since = [0, 5, 10, 15, 20, 30, 40, 50, 60, 75, 90, 105, 120, 135, 150, 165];
  return [...since, ...since.map((t) => stoppedMin + t).filter((t) => t <= lastMin), lastMin];
}

function warmUpSheet(seed) {
  const { nose, headstock, room, stoppedMin } = heatTruth;
  const draw = generator(seed);
  const rows = moments().map((minute) => {
    const growth = Math.round(
      settled(nose.riseUm, nose.warmUpMin, nose.coolDownMin, minute) + nose.noiseUm * draw.normal(),
    );
    const warmth = settled(headstock.riseK, headstock.warmUpMin, headstock.coolDownMin, minute);
    const head = headstock.startC + warmth + headstock.noiseK * draw.normal();
    const shed = room.startC + (room.riseKPerHour * minute) / 60 + room.noiseK * draw.normal();
    const note = minute === 0 ? "spindle started after this reading" : minute === stoppedMin ? "spindle stopped" : "";
    return [clock(minute), growth === 0 ? 0 : growth, head.toFixed(1), (shed * 1.8 + 32).toFixed(1), note].join(",");
  });
  return `${[
    "# title: spindle nose of the bed mill, warming up and cooling down",
    "# workshop: Tinmoor Lane club workshop, invented",
    "# machine: second-hand bed mill, invented",
    "# date: 2026-10-16",
    "# spindle: second highest speed without load from 13:30 to 16:30, stopped and isolated for each reading",
    "# gauge: plunger dial indicator, invented, on the table, against the nose",
    "# gauge display: analogue",
    "# gauge resolution: 2 µm",
    "# gauge fraction estimated: 0.5",
    "# gauge range: 1 mm",
    "# gauge range per turn: 0.2 mm",
    "# gauge maximum permissible error: 4 µm",
    "# positive: surface stands high",
    "# note: nose: growth towards the table; headstock: front bearing; room: at the height of the table, a thermometer in °F",
    "time,nose/um,headstock/degC,room/degF,note",
    ...rows,
  ].join("\n")}\n`;
}

/** sheets by name, each with the date it was closed */
export function inventHeat() {
  return { "warm-up-spindle.csv": { text: warmUpSheet(20261016), closed: "2026-10-16" } };
}

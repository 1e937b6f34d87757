import type { Checked, Finding } from "./finding.js";
import { type LengthUnit, micrometres } from "./sheet.js";
import { mapsOfPasses, type SlipMap } from "./slip-maps.js";

/** A lever indicator whose angle the sheet does not say. */
export function checkLever({ sheet }: Checked): readonly Finding[] {
  const { gauge } = sheet.preamble;
  if (gauge.leverAngle !== undefined || !/\b(lever|test indicator|finger)/i.test(gauge.name)) return [];
  return [
    {
      check: "lever angle",
      severity: "check",
      what: `${gauge.name} has a lever, and the sheet does not say its angle to the surface: readings are too large by 1.5 % at 10°, 6 % at 20°, 15 % at 30°`,
      places: [],
      howSure: "1 / cos of the angle",
      whatToDo: 'set the stylus flat, or say above the heading "# gauge lever angle: 20 deg"',
    },
  ];
}

/** Places that stand a whole turn of the pointer off in one pass, more than a single slip. */
export function checkTurns({ sheet, table }: Checked): readonly Finding[] {
  const turn = sheet.preamble.gauge.rangePerTurn?.in("um");
  const [first, ...later] = mapsOfPasses(table);
  if (turn === undefined || !first) return [];
  if (later.length === 0) return turnsOnTheWay(first, turn, table.step);
  const near = Math.max(0.05 * turn, 3 * table.step);
  return later.flatMap((second) => {
    const at = new Map(first.labels.map((label, i) => [label, first.z[i]!]));
    const both = second.labels.flatMap((label, i) =>
      at.has(label) ? [{ label, off: second.z[i]! - at.get(label)! }] : [],
    );
    const middle = both.map(({ off }) => off).sort((a, b) => a - b)[both.length >> 1] ?? 0;
    const turned = both.filter(({ off }) => Math.abs(Math.abs(off - middle) - turn) <= near).map(({ label }) => label);
    if (turned.length < 2) return [];
    return [
      {
        check: "turn",
        severity: "stop" as const,
        what: `${turned.slice(0, 5).join(", ")}${turned.length > 5 ? ` and ${turned.length - 5} more` : ""} stand a whole turn of the pointer (${Number(turn.toPrecision(3))} µm) off between ${first.name} and ${second.name}: was a turn missed?`,
        places: turned,
        howSure: `${turned.length} of ${both.length} places, each within ${Number(near.toPrecision(2))} µm of a turn`,
        whatToDo: `read the turn counter again at ${turned[0]}`,
      },
    ];
  });
}

/**
 * Readings of one pass between two jumps of a whole turn, in the order they were read. A form changes little from one
 * place to the next; a tilt, however large, changes by much the same each time.
 */
function turnsOnTheWay({ labels, z }: SlipMap, turn: number, step: number): Finding[] {
  const jumps = labels.map((_, i) => (i === 0 ? 0 : z[i]! - z[i - 1]!));
  const usual = [...jumps.slice(1)].map(Math.abs).sort((a, b) => a - b)[labels.length >> 1] ?? turn;
  if (!(usual < turn / 10)) return [];
  const near = Math.max(0.05 * turn, 3 * step, 3 * usual);
  let level = 0;
  const levels = jumps.map((jump) => {
    const turns = Math.round(jump / turn);
    if (Math.abs(jump - turns * turn) <= near) level += turns;
    return level;
  });
  const count = new Map<number, number>();
  for (const one of levels) count.set(one, (count.get(one) ?? 0) + 1);
  const [most] = [...count].sort((a, b) => b[1] - a[1])[0]!;
  const turned = labels.filter((_, i) => levels[i] !== most);
  if (turned.length < 2) return [];
  return [
    {
      check: "turn",
      severity: "stop",
      what: `${turned.slice(0, 5).join(", ")}${turned.length > 5 ? ` and ${turned.length - 5} more` : ""} stand a whole turn of the pointer (${Number(turn.toPrecision(3))} µm) off the readings before or after: was a turn missed?`,
      places: turned,
      howSure: `${turned.length} of ${labels.length} places, between jumps within ${Number(near.toPrecision(2))} µm of a turn`,
      whatToDo: `read the turn counter again at ${turned[0]}`,
    },
  ];
}

/** The unit in which heights would be whole steps of the gauge, where in the unit of the heading they are not: thou typed
 * under a heading in µm. */
export function unitOfSteps(heightsUm: ArrayLike<number>, stated: LengthUnit, stepUm: number): LengthUnit | undefined {
  const share = (factor: number) => {
    let whole = 0;
    for (let i = 0; i < heightsUm.length; i++) {
      const steps = (heightsUm[i]! * factor) / stepUm;
      if (Math.abs(steps - Math.round(steps)) < 0.02) whole++;
    }
    return whole / heightsUm.length;
  };
  if (share(1) > 0.5) return undefined;
  // whole tenths are whole thou too, so the finer unit is tried first
  return (["um", "tenth", "thou"] as const).find(
    (unit) => unit !== stated && share(micrometres[unit] / micrometres[stated]) > 0.98,
  );
}

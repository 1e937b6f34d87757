import { randomStream } from "../../kernel-lib/src/numerics/random.js";
import { parseSurvey, type Survey } from "../../kernel-lib/src/survey/survey.js";
import { head } from "./invented-survey.js";

/** What a slip does to one map: to where a height is looked for, to the height, and to the list of rows. */
export interface Slip {
  readonly look?: (u: number, v: number) => readonly [number, number];
  readonly change?: (z: number, row: number) => number;
  readonly rows?: (heights: number[]) => number[];
}

export const slips: { readonly [name: string]: Slip } = {
  sense: { change: (z) => -z },
  "units in thou": { change: (z) => z / 25.4 },
  "mirrored left to right": { look: (u, v) => [-u, v] },
  "mirrored front to back": { look: (u, v) => [u, -v] },
  "turned by 180°": { look: (u, v) => [-u, -v] },
  "lever angle": { change: (z) => z / Math.cos(0.5) },
  "rows shifted": { rows: (heights) => [...heights.slice(0, 20), heights[20]!, ...heights.slice(20, -1)] },
  turn: { change: (z, row) => (row >= 30 ? z + 200 : z) },
};

const columns = 9;
const rows = 6;

/** Heights of a table of the seed's own form, read in whole steps with a scatter of their own for each map. */
function map(
  seed: number,
  number: number,
  { look, change, rows: moved }: Slip,
  step: number,
  scatter: number,
): string[] {
  const shape = randomStream(seed, 1);
  const [a, b, c, d, e, f] = Array.from({ length: 6 }, () => 14 * shape.normal());
  const [atU, atV] = [1.6 * shape.uniform() - 0.8, 1.6 * shape.uniform() - 0.8];
  const worn = (u: number, v: number) => -30 * Math.exp(-4 * ((u - atU) ** 2 + (v - atV) ** 2));
  const noise = randomStream(seed, 2 + number);
  const places = Array.from({ length: columns * rows }, (_, k) => {
    const j = Math.floor(k / columns);
    const i = j % 2 === 0 ? k % columns : columns - 1 - (k % columns);
    return { i, j, u: i / 4 - 1, v: j / 2.5 - 1 };
  });
  const heights = places.map(({ u, v }, row) => {
    const [s, t] = look ? look(u, v) : [u, v];
    const bow = c! * s * s + d! * t * t + e! * s * t + (f! / 2) * s * s * s;
    const z = a! * s + b! * t + bow + worn(s, t) + scatter * noise.normal();
    return Math.round((change ? change(z, row) : z) / step) * step;
  });
  const written = moved ? moved(heights) : heights;
  return places.map(({ i, j }, k) =>
    [`${String.fromCharCode(65 + j)}${i + 1}`, 50 * i, 40 * j, Number(written[k]!.toFixed(6))].join(","),
  );
}

export function twoPasses(seed: number, slip: Slip = {}, step = 1, scatter = 0.8): Survey {
  const lines = [
    map(seed, 0, {}, step, scatter),
    map(seed, 1, slip, slip === slips["units in thou"] ? step / 10 : step, scatter),
  ];
  const text = lines.flatMap((pass, k) => pass.map((row) => `${row},${k + 1}`));
  return parseSurvey(
    `${head}# gauge range per turn: 200 um\n# gauge resolution: ${step} um\nplace,x/mm,y/mm,z/um,pass\n${text.join("\n")}\n`,
    { name: "two.csv" },
  );
}

/** a survey of one pass */
export function oneMap(seed: number, number: number, slip: Slip = {}, step = 1, scatter = 0.8): Survey {
  const text = map(seed, number, slip, step, scatter).map((row) => `${row},1`);
  return parseSurvey(`${head}# gauge resolution: ${step} um\nplace,x/mm,y/mm,z/um,pass\n${text.join("\n")}\n`, {
    name: `map ${number}`,
  });
}

const asked = ["sense", "units", "arrangement", "rows", "lever angle", "turn"];

/** clean pairs on which any slip is asked about: two passes of one sheet, two surveys of one table */
export function slipAlarms(cases: number, from: number): { cases: number; hits: number } {
  let hits = 0;
  for (let seed = from; seed < from + cases; seed++) {
    const scatter = 0.1 + 2 * randomStream(seed, 99).uniform();
    const within = twoPasses(seed, {}, 1, scatter).health().findings;
    const between = oneMap(seed, 0, {}, 1, scatter).slips(oneMap(seed, 1, {}, 1, scatter)).findings;
    if ([...within, ...between].some(({ check }) => asked.includes(check))) hits++;
  }
  return { cases, hits };
}

/** sheets on which a planted slip of that name is asked about */
export function slipFound(name: string, check: string, cases: number, from: number): { cases: number; hits: number } {
  let hits = 0;
  for (let seed = from; seed < from + cases; seed++) {
    if (
      twoPasses(seed, slips[name])
        .health()
        .findings.some((f) => f.check === check)
    )
      hits++;
  }
  return { cases, hits };
}

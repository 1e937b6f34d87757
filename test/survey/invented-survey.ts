import { type RandomStream, randomStream } from "../../kernel-lib/src/numerics/random.js";

/** A survey drawn from a law the package does not know, as the text of a sheet. */
export interface Invented {
  readonly seed: number;
  readonly columns?: number;
  readonly rows?: number;
  readonly passes?: number;
  /** scatter of one reading before it is rounded, and step of the gauge, µm */
  readonly scatter: number;
  readonly step: number;
  /** drift over the whole survey, µm */
  readonly drift?: number;
  /** one reading too high by so much, µm; where it is, the seed says */
  readonly swarf?: number;
  /** visits to the datums, spread over the survey, three readings at each of three places */
  readonly rounds?: number;
}

export interface InventedSheet {
  readonly text: string;
  readonly swarfAt: { readonly place: string; readonly pass: number } | undefined;
}

export const head = `# title: invented survey, simulated
# relative to: travel
# front: y-
# +x: right
# +y: back
# gauge maximum permissible error: 4 um
`;

/** Bow, twist and a slow wave, scatter, drift and one bad reading; everything from the seed. */
export function inventSurvey(law: Invented): InventedSheet {
  const { columns = 9, rows = 6, passes = 2, scatter, step, drift = 0, swarf = 0, rounds = 5 } = law;
  const random = randomStream(law.seed);
  const form = inventForm(random);
  const size = columns * rows * passes;
  const swarfAt = swarf ? Math.floor(random.uniform() * size) : -1;
  const visitAt = new Set(Array.from({ length: rounds }, (_, k) => Math.round((k * size) / (rounds - 1))));
  const total = size + rounds * 9;
  const lines: string[] = [];
  const read = (place: string, x: number, y: number, pass: number, extra: number) => {
    const z = form(x, y) + (drift * lines.length) / (total - 1) + scatter * random.normal() + extra;
    lines.push([place, x, y, Number((Math.round(z / step) * step).toFixed(6)), pass].join(","));
  };
  let swarfPlace: { place: string; pass: number } | undefined;
  for (let k = 0; k <= size; k++) {
    const pass = Math.min(passes, Math.floor(k / (columns * rows)) + 1);
    if (visitAt.has(k)) {
      for (let r = 0; r < 9; r++) read(`datum ${Math.floor(r / 3) + 1}`, 61 + 150 * Math.floor(r / 3), 83, pass, 0);
    }
    if (k === size) break;
    const [i, j] = serpentine(k % (columns * rows), columns);
    const place = `${String.fromCharCode(65 + j)}${i + 1}`;
    if (k === swarfAt) swarfPlace = { place, pass };
    read(place, 50 * i, 40 * j, pass, k === swarfAt ? swarf : 0);
  }
  const text = `${head}# gauge resolution: ${step} um\nplace,x/mm,y/mm,z/um,pass\n${lines.join("\n")}\n`;
  return { text, swarfAt: swarfPlace };
}

function serpentine(k: number, columns: number): [number, number] {
  const j = Math.floor(k / columns);
  const i = k % columns;
  return [j % 2 === 0 ? i : columns - 1 - i, j];
}

function inventForm(random: RandomStream): (x: number, y: number) => number {
  const [a, b, c, d, e] = Array.from({ length: 5 }, () => 12 * random.normal());
  const phase = 6 * random.uniform();
  return (x, y) => {
    const u = x / 200 - 1;
    const v = y / 100 - 1;
    return a! * u + b! * v + c! * u * u + d! * v * v + e! * u * v + 0.2 * a! * Math.sin(2 * u + 1.5 * v + phase);
  };
}

/** findings that rest on statistics: what a clean sheet must hardly ever draw */
export const statistical = [
  "passes",
  "neighbours",
  "shift",
  "tilt",
  "drift",
  "approach",
  "sense",
  "arrangement",
  "rows",
  "lever angle",
  "turn",
];

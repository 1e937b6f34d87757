import { type RandomStream, randomStream } from "../../kernel-lib/src/numerics/index.js";
import { parseSurvey, type Surface } from "../../kernel-lib/src/survey/index.js";

/** A machine drawn from laws that the tool does not assume, surveyed as a sheet says. */
export interface Machine {
  readonly law: string;
  readonly map: Surface;
  /** true heights at the places of the map, µm */
  readonly trueUm: readonly number[];
  /** the same without the dings */
  readonly baseUm: readonly number[];
  readonly random: RandomStream;
}

type Height = (x: number, y: number) => number;

const columns = 11;
const rows = 5;
const pitchMm = 48;
const datums = [0, 30, 54];

/** One machine of one seed: form, dings, gauge curve, scatter and drift each of a law of its own. */
export function machine(seed: number): Machine {
  const random = randomStream(seed, 471);
  const places = Array.from({ length: columns * rows }, (_, i) => {
    const [column, row] = [i % columns, Math.floor(i / columns)];
    return { label: `${"ABCDE"[row]}${column + 1}`, x: 20 + pitchMm * column, y: 20 + pitchMm * row };
  });
  const [law, form] = formOf(random);
  const baseUm = places.map(({ x, y }) => form((x - 260) / 240, (y - 116) / 96));
  const dings = dingsOf(random);
  const trueUm = baseUm.map((z, i) => z + (dings.get(i) ?? 0));
  const sheet = sheetOf(random, places, trueUm);
  const map = parseSurvey(sheet, { name: `machine ${seed}` }).surface();
  return { law, map, trueUm, baseUm, random };
}

/** forms in µm over a table that runs from −1 to 1 both ways */
function formOf(random: RandomStream): readonly [string, Height] {
  const between = (low: number, high: number) => low + (high - low) * random.uniform();
  const sign = () => (random.uniform() < 0.5 ? -1 : 1);
  const [bow, twist, tiltX, tiltY] = [between(-12, 12), between(-8, 8), between(-15, 15), between(-8, 8)];
  const plain: Height = (x, y) => bow * x * x + twist * x * y + tiltX * x + tiltY * y;
  const kind = Math.floor(5 * random.uniform());
  if (kind === 0) return ["bow and twist", plain];
  if (kind === 1) {
    const [size, waves, phase] = [between(1, 5), between(2, 8), between(0, 6.3)];
    return ["washboard", (x, y) => plain(x, y) + size * Math.sin(waves * x + phase)];
  }
  if (kind === 2) {
    const [depth, atX, atY, wide] = [between(5, 25), between(-0.7, 0.7), between(-0.7, 0.7), between(0.2, 0.5)];
    return ["worn patch", (x, y) => plain(x, y) - depth * Math.exp(-((x - atX) ** 2 + (y - atY) ** 2) / wide ** 2)];
  }
  if (kind === 3) {
    const [bend, at, across] = [sign() * between(5, 20), between(-0.6, 0.6), between(-0.4, 0.4)];
    return ["kinked", (x, y) => bend * Math.abs(x - at + across * y) + tiltX * x];
  }
  const scraped = randomStream(Math.floor(1e9 * random.uniform()));
  const size = between(0.5, 3);
  const known = new Map<string, number>();
  return [
    "scraped in spots",
    (x, y) => {
      const key = `${x.toFixed(3)} ${y.toFixed(3)}`;
      const spot = known.get(key) ?? size * (2 * scraped.uniform() - 1);
      known.set(key, spot);
      return plain(x, y) + spot;
    },
  ];
}

/** none to three rims, by the number of their place */
function dingsOf(random: RandomStream): Map<number, number> {
  const count = Math.floor(4 * random.uniform());
  const one = (): readonly [number, number] => [
    Math.floor(columns * rows * random.uniform()),
    4 - 10 * Math.log(1 - random.uniform()),
  ];
  return new Map(Array.from({ length: count }, one));
}

const largestErrorUm = 3;

/** a gauge with corners and jumps in its curve, inside ± its maximum permissible error */
function gaugeCurve(random: RandomStream): (readingUm: number) => number {
  const size = largestErrorUm * random.uniform();
  const kind = Math.floor(3 * random.uniform());
  const [period, phase] = [8 + 60 * random.uniform(), random.uniform()];
  const part = (z: number) => (((z / period + phase) % 1) + 1) % 1;
  if (kind === 0) return (z) => size * (2 * part(z) - 1);
  if (kind === 1) return (z) => (part(z) < 0.5 ? size : -size);
  const knots = Array.from({ length: 64 }, () => size * (2 * random.uniform() - 1));
  return (z) => {
    const at = (((z / (period / 4)) % 64) + 64) % 64;
    const [from, share] = [Math.floor(at), at % 1];
    return knots[from]! * (1 - share) + knots[(from + 1) % 64]! * share;
  };
}

/** scatter with a standard deviation of one: normal, even, or long-tailed */
function scatterOf(random: RandomStream): () => number {
  const kind = Math.floor(3 * random.uniform());
  if (kind === 0) return random.normal;
  if (kind === 1) return () => Math.sqrt(12) * (random.uniform() - 0.5);
  return () => (random.uniform() < 0.5 ? 1 : -1) * Math.log(1 - random.uniform()) * Math.SQRT1_2;
}

function sheetOf(
  random: RandomStream,
  places: readonly { readonly label: string; readonly x: number; readonly y: number }[],
  trueUm: readonly number[],
): string {
  const curve = gaugeCurve(random);
  const scatter = scatterOf(random);
  const noiseUm = 0.5 + random.uniform();
  const rise = 6 * random.uniform() - 3;
  const settles = 20 + 80 * random.uniform();
  const lines = [
    ...["# relative to: travel", "# front: y-", "# +x: right", "# +y: back", "# positive: surface stands high"],
    ...["# zeroed: once", "# gauge resolution: 1 µm", `# gauge maximum permissible error: ${largestErrorUm} µm`],
    "place,x/mm,y/mm,z/um,pass,order",
  ];
  let order = 0;
  const read = (i: number, name: string, pass: number) => {
    order += 1;
    const at = trueUm[i]! - trueUm[0]! + rise * (1 - Math.exp(-order / settles));
    const { x, y } = places[i]!;
    const [dx, dy] = name === places[i]!.label ? [0, 0] : [3, 3];
    lines.push(`${name},${x + dx},${y + dy},${Math.round(at + curve(at) + noiseUm * scatter())},${pass},${order}`);
  };
  const returns = (pass: number) => {
    for (const [k, i] of datums.entries()) for (let n = 0; n < 3; n++) read(i, `datum ${k + 1}`, pass);
  };
  for (const pass of [1, 2]) {
    returns(pass);
    for (const i of places.keys()) {
      read(i, places[i]!.label, pass);
      if ((i + 1) % 28 === 0 || i === places.length - 1) returns(pass);
    }
  }
  return `${lines.join("\n")}\n`;
}

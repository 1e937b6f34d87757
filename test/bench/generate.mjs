// The inputs of the benchmark, the same bits in every language: a 32-bit generator whose draw k depends on k alone,
// near-normal numbers as sums of twelve draws, and a checksum over the words of the arrays.

const stride = 0x6d2b79f5;

/** draws first … first + count − 1 of the stream of a seed, each in [0, 1) */
export function uniforms(seed, first, count) {
  const draws = new Float64Array(count);
  for (let k = 0; k < count; k++) {
    const state = (seed + Math.imul(first + k + 1, stride)) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61)) ^ mixed;
    draws[k] = ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  }
  return draws;
}

/** count numbers of mean 0 and variance 1: the i-th is the sum of draw i of twelve consecutive blocks, less 6 */
export function nearNormals(seed, first, count) {
  const sums = new Float64Array(count);
  for (let block = 0; block < 12; block++) {
    const draws = uniforms(seed, first + block * count, count);
    for (let i = 0; i < count; i++) sums[i] += draws[i];
  }
  return sums.map((sum) => sum - 6);
}

/** 8 hexadecimal digits: sum of word j × (2 j + 1) over the little-endian 32-bit words of all arrays in turn */
export function checksum(...arrays) {
  let total = 0;
  let odd = 1;
  for (const array of arrays) {
    for (const word of new Uint32Array(array.buffer, array.byteOffset, array.length * 2)) {
      total = (total + Math.imul(word, odd)) | 0;
      odd = (odd + 2) | 0;
    }
  }
  return (total >>> 0).toString(16).padStart(8, "0");
}

/** points of a bowed, tilted table: x and y in mm over 2000 × 1000, z in µm with a noise of 1.5 */
export function planePoints(seed, count) {
  const x = uniforms(seed, 0, count).map((u) => 2000 * u);
  const y = uniforms(seed, count, count).map((u) => 1000 * u);
  const noise = nearNormals(seed, 2 * count, count);
  const z = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const bent = (x[i] - 1000) * 0.001;
    z[i] = 12.5 + 0.003 * x[i] - 0.002 * y[i] - 4 * bent * bent + 1.5 * noise[i];
  }
  return { x, y, z };
}

/** gauge studies of 10 parts × 3 operators × 3 repeats, one after the other: parts, operators, their interaction and repeats
 * scatter by 0.8, 0.25, 0.1 and 0.2 */
export function gaugeStudies(seed, count) {
  const g = nearNormals(seed, 0, 133 * count);
  const values = new Float64Array(90 * count);
  for (let study = 0, at = 0; study < count; study++) {
    const own = 133 * study;
    for (let cell = 0; cell < 30; cell++) {
      const [part, operator] = [Math.floor(cell / 3), cell % 3];
      const height = 10 + 0.8 * g[own + part] + 0.25 * g[own + 10 + operator] + 0.1 * g[own + 13 + cell];
      for (let repeat = 0; repeat < 3; repeat++, at++) values[at] = height + 0.2 * g[own + 43 + 3 * cell + repeat];
    }
  }
  return values;
}

/** places in −1 … 1 and heights of a quadratic surface with a noise of 0.05; one in twenty stands 2 to 5 too high */
export function quadraticPoints(seed, count) {
  const x = uniforms(seed, 0, count).map((u) => 2 * u - 1);
  const y = uniforms(seed, count, count).map((u) => 2 * u - 1);
  const noise = nearNormals(seed, 2 * count, count);
  const chance = uniforms(seed, 14 * count, count);
  const size = uniforms(seed, 15 * count, count);
  const z = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const [u, v] = [x[i], y[i]];
    z[i] = 2 + 0.5 * u - 0.3 * v + 1.2 * (u * u) - 0.7 * (u * v) + 0.4 * (v * v) + 0.05 * noise[i];
    if (chance[i] < 0.05) z[i] += 2 + 3 * size[i];
  }
  return { x, y, z };
}

/** 8 hexadecimal digits: sum of byte j × (2 j + 1) over the bytes of a text */
export function checksumOfBytes(bytes) {
  let total = 0;
  for (let j = 0; j < bytes.length; j++) total = (total + Math.imul(bytes[j], 2 * j + 1)) | 0;
  return (total >>> 0).toString(16).padStart(8, "0");
}

/** the text of a survey under foreign headings: each run reads all points, there and back by turns */
export function surveySheet(seed, points, runs) {
  const base = uniforms(seed, 0, points).map((u) => Math.floor(u * 20001) - 10000);
  const noise = uniforms(seed, points, points * runs).map((u) => Math.floor(u * 1001) - 500);
  const warmth = uniforms(seed, points + points * runs, points * runs).map((u) => Math.floor(u * 401) + 19800);
  const lines = ["run,point,x_mm,y_mm,z_um,temp_c"];
  for (let row = 0; row < points * runs; row++) {
    const run = Math.floor(row / points);
    const point = run % 2 === 0 ? row % points : points - 1 - (row % points);
    const name = `P${String(point + 1).padStart(5, "0")}`;
    const [x, y] = [(point % 50) * 20125, Math.floor(point / 50) * 25250];
    const numbers = [x, y, base[point] + noise[row], warmth[row]].map(thousandths);
    lines.push([run + 1, name, ...numbers].join(","));
  }
  return `${lines.join("\n")}\n`;
}

function thousandths(count) {
  const size = Math.abs(count);
  return `${count < 0 ? "-" : ""}${Math.floor(size / 1000)}.${String(size % 1000).padStart(3, "0")}`;
}

/** deviations of an axis in µm, run after run up and down again: a bow, a reversal of 1.6 that grows, a scatter of 0.3 to 0.5 */
export function bidirectional(seed, count, runs) {
  const size = 2 * count * runs;
  const noise = nearNormals(seed, 0, size);
  const positions = new Int32Array(size);
  const directions = new Int32Array(size);
  const values = new Float64Array(size);
  for (let k = 0; k < size; k++) {
    const q = k % (2 * count);
    const down = q >= count;
    const position = down ? 2 * count - 1 - q : q;
    const t = position / (count - 1);
    positions[k] = position;
    directions[k] = down ? 1 : 0;
    values[k] = 6 * t - 4 * (t * t) + (down ? -0.8 : 0.8) * (1 + 0.5 * t) + (0.3 + 0.2 * t) * noise[k];
  }
  return { positions, directions, values, count };
}

/** scattered places in the unit square and heights of a smooth hill with noise */
export function scatteredPoints(seed, count, noise) {
  const x = uniforms(seed, 0, count);
  const y = uniforms(seed, count, count);
  const g = nearNormals(seed, 2 * count, count);
  const z = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const [a, b, c, d] = [x[i] - 0.5, y[i] - 0.4, x[i] - 0.3, y[i] - 0.6];
    z[i] = 5 * a * a - 3 * b * b + 2 / (1 + 20 * (c * c + d * d)) + noise * g[i];
  }
  return { x, y, z };
}

/** the crossings of `side` × `side` lines over the unit square, x fastest */
export function unitGrid(side) {
  const x = Float64Array.from({ length: side * side }, (_, k) => (k % side) / (side - 1));
  const y = Float64Array.from({ length: side * side }, (_, k) => Math.floor(k / side) / (side - 1));
  return { x, y };
}

/** points of a tilted table, x and y in mm over 2000 × 1000, z in µm, even over ±1.5 */
export function tiltedPoints(seed, count) {
  const x = uniforms(seed, 0, count).map((u) => 2000 * u);
  const y = uniforms(seed, count, count).map((u) => 1000 * u);
  const z = uniforms(seed, 2 * count, count).map((u, i) => 12.5 + 0.003 * x[i] - 0.002 * y[i] + 3 * (u - 0.5));
  return { x, y, z };
}

import { mkdirSync, readFileSync, statSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { checksum, tiltedPoints } from "../generate.mjs";

const folder = fileURLToPath(new URL("../../../build/bench/", import.meta.url));
const path = join(folder, "w11.ipynb");

const cells = [
  'import { figure, gauge, numerics, um } from "dialbook";',
  `const n = 1000;
const uniforms = (seed: number, first: number) =>
  Array.from({ length: n }, (_, k) => {
    const state = (seed + Math.imul(first + k + 1, 0x6d2b79f5)) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  });
const x = uniforms(1111, 0).map((u) => 2000 * u);
const y = uniforms(1111, n).map((u) => 1000 * u);
const z = uniforms(1111, 2 * n).map((u, i) => 12.5 + 0.003 * x[i] - 0.002 * y[i] + 3 * (u - 0.5));
const plane = numerics.leastSquaresPlane(x, y, z);
const rest = z.map((h, i) => h - plane.offset - plane.slopeX * x[i] - plane.slopeY * y[i]);
const printed = [plane.slopeX, plane.slopeY, plane.offset, Math.max(...rest) - Math.min(...rest)];
console.log(printed.map((v) => v.toPrecision(12)).join(" "));`,
  `const spline = numerics.thinPlateSpline(
  { x: x.map((v) => v / 2000), y: y.map((v) => v / 1000), z: rest },
  { smoothing: 1 },
);
const grid = Array.from({ length: 3600 }, (_, k) => [(k % 60) / 59, Math.floor(k / 60) / 59]);
const heights = spline.heights(grid.map(([u]) => u), grid.map(([, v]) => v));
console.log([Math.min(...heights), Math.max(...heights)].map((v) => v.toPrecision(9)).join(" "));`,
  `figure.heightSurface({
  name: "smoothed rest of an invented table",
  frame: { relativeTo: "travel", front: "y-", plusX: "right", plusY: "back" },
  gauge: gauge({ resolution: um(1), maximumPermissibleError: um(3) }),
  places: grid.map(([u, v], i) => ({ label: \`P\${i + 1}\`, xMm: 2000 * u, yMm: 1000 * v, zUm: heights[i], count: 1 })),
  noise: { standardUncertaintyUm: 0.9, degreesOfFreedom: 997 },
})`,
];

/** A whole notebook: plane, spline and a surface to turn, from the start of the kernel until it has ended. */
export default {
  id: "W11",
  variant: "notebook",
  against: { python: "w11_notebook.py", variant: "nbclient-plotly", ratio: 1 },
  uses: ["kernel"],
  sizes: [1000],
  cold: true,
  relative: 1e-8,
  atMost: { html_bytes: 3e6 },
  expected: JSON.parse(readFileSync(new URL("../expected/w11-notebook.json", import.meta.url), "utf8")),

  make(size) {
    const { x, y, z } = tiltedPoints(1111, size);
    mkdirSync(folder, { recursive: true });
    writeFileSync(path, JSON.stringify(notebook()));
    return { inputs: path, checksum: checksum(x, y, z) };
  },

  async run(notebookPath, { kernel }) {
    const ran = await kernel.runNotebook({ path: notebookPath, outputFolder: join(folder, "out") });
    return { ran, kernel };
  },

  result({ ran, kernel }) {
    if (ran.failure !== undefined) throw new Error(ran.failure);
    kernel.writeReport({ chapters: [ran], folder: join(folder, "report"), version: "bench" });
    const outputs = ran.notebook.cells.map((cell) => cell.outputs);
    const [a, b, c, width] = printed(outputs[1]);
    const [least, greatest] = printed(outputs[2]);
    const bytes = (name) => statSync(join(folder, name)).size;
    return {
      a,
      b,
      c,
      width,
      least,
      greatest,
      figures: outputs[3].filter(({ data }) => data?.["application/vnd.plotly.v1+json"]).length,
      html_bytes: bytes("report/w11.html"),
      ipynb_bytes: bytes("out/w11.ipynb"),
    };
  },
};

function printed(outputs) {
  return outputs
    .map(({ text = "" }) => text)
    .join("")
    .trim()
    .split(/\s+/)
    .map(Number);
}

function notebook() {
  return {
    nbformat: 4,
    nbformat_minor: 5,
    metadata: {},
    cells: cells.map((source, i) => ({
      cell_type: "code",
      id: `cell-${i + 1}`,
      metadata: {},
      source: [source],
      execution_count: null,
      outputs: [],
    })),
  };
}

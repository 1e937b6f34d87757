import { spawnSync } from "node:child_process";
import { resolve } from "node:path";
import { expect, it } from "vitest";
import { gaussianProcess, randomStream, thinPlateSpline } from "../../kernel-lib/src/numerics/index.js";

const python = "/usr/bin/python3";
const script = resolve(import.meta.dirname, "surface_models.py");
const isThere = spawnSync(python, ["-c", "import scipy, sklearn"]).status === 0;
const isSkipped = !isThere && process.env.CI !== "true";
if (isSkipped) console.log(`skipped: ${python} has no modules scipy and sklearn`);

function randomCase(number: number) {
  const stream = randomStream(number);
  const n = 20 + Math.floor(100 * stream.uniform());
  const draw = (count: number, scale: number) => Array.from({ length: count }, () => scale * stream.uniform());
  const [x, y] = [draw(n, 900), draw(n, 250)];
  const z = x.map((v, i) => 10 * Math.sin(v / 200) + 5 * Math.cos(y[i]! / 80) + stream.normal());
  const covariance = number % 2 === 0 ? ("matern 5/2" as const) : ("squared exponential" as const);
  return {
    x,
    y,
    z,
    px: draw(30, 900),
    py: draw(30, 250),
    smoothing: number % 3 === 0 ? 0 : 10 ** (1 + 4 * stream.uniform()),
    covariance,
    nugget: 1,
  };
}

it.skipIf(isSkipped)(
  "agrees with scipy on splines and with scikit-learn on Gaussian processes, 60 random surveys",
  () => {
    const cases = Array.from({ length: 60 }, (_, number) => {
      const drawn = randomCase(number);
      const process = gaussianProcess(drawn, {
        covariance: drawn.covariance,
        nugget: 1,
        trend: "none",
        start: { variance: 50 },
      });
      return { ...drawn, process, size: process.size };
    });
    const { stdout, stderr, status } = spawnSync(python, [script], {
      input: JSON.stringify(cases.map(({ process: _, ...drawn }) => drawn)),
      encoding: "utf8",
      maxBuffer: 1e8,
    });
    expect(stderr).toBe("");
    expect(status).toBe(0);
    const answers = JSON.parse(stdout) as { spline: number[]; mean: number[]; sd: number[]; lml: number }[];
    const worst = { spline: 0, mean: 0, sd: 0, lml: 0 };
    const off = (ours: ArrayLike<number>, theirs: readonly number[]) =>
      Math.max(...theirs.map((value, i) => Math.abs(value - ours[i]!)));
    cases.forEach(({ px, py, smoothing, process, ...points }, k) => {
      const other = answers[k]!;
      const { mean, standardUncertainty } = process.predict(px, py);
      worst.spline = Math.max(worst.spline, off(thinPlateSpline(points, { smoothing }).heights(px, py), other.spline));
      worst.mean = Math.max(worst.mean, off(mean, other.mean));
      worst.sd = Math.max(worst.sd, off(standardUncertainty, other.sd));
      worst.lml = Math.max(worst.lml, Math.abs(process.logLikelihood - other.lml));
    });
    console.log(`largest differences over ${cases.length} surveys, µm: ${JSON.stringify(worst)}`);
    expect(worst.spline).toBeLessThan(1e-6);
    expect(worst.mean).toBeLessThan(1e-7);
    expect(worst.sd).toBeLessThan(1e-6);
    expect(worst.lml).toBeLessThan(1e-7);
  },
);

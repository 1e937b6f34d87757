import { spawnSync } from "node:child_process";
import { join } from "node:path";
import { expect, it } from "vitest";
import { randomStream } from "../../kernel-lib/src/numerics/index.js";
import { plain } from "../../kernel-lib/src/quantity/index.js";
import { budgetOfNumbers, input } from "../../kernel-lib/src/uncertainty/index.js";

type Tree = number | Branch;
interface Branch {
  readonly name: string;
  readonly parts: readonly Tree[];
}
interface ModelInput {
  readonly law: "normal" | "rectangular" | "triangular" | "arcsine" | "t";
  readonly estimate: number;
  readonly u: number;
  readonly degrees: number;
}
interface Model {
  readonly inputs: readonly ModelInput[];
  readonly tree: Tree;
}
interface Answer {
  readonly mean: number;
  readonly u: number;
  readonly low: number;
  readonly high: number;
  readonly scatter: readonly [number, number, number, number];
}

const python = process.env.BENCH_PYTHON ?? "/usr/bin/python3";
const laws = ["normal", "rectangular", "triangular", "arcsine", "t"] as const;

function randomModel(seed: number): Model {
  const stream = randomStream(seed);
  const below = (count: number) => Math.floor(stream.uniform() * count);
  const inputs = Array.from({ length: 2 + below(5) }, () => ({
    law: laws[below(laws.length)]!,
    estimate: 4 * stream.uniform() - 2,
    u: 0.01 + 0.2 * stream.uniform(),
    degrees: 5 + below(20),
  }));
  const join = (trees: readonly Tree[]): Tree => {
    const [a, b, ...rest] = trees;
    if (b === undefined) return below(3) === 0 ? branch("sine", a!) : a!;
    const name = ["sum", "difference", "product", "quotient"][below(4)]!;
    return join([branch(name, below(4) === 0 ? branch("sine", a!) : a!, b), ...rest]);
  };
  const leaves = inputs.map((_, k) => branch("product", 1 + below(3), branch("x", k)));
  const tail = branch("product", 0.5, branch("x", below(inputs.length)));
  return { inputs, tree: branch("sum", join(leaves), tail) };
}

function branch(name: string, ...parts: readonly Tree[]): Branch {
  return { name, parts };
}

function evaluate(tree: Tree, x: readonly number[]): number {
  if (typeof tree === "number") return tree;
  const { name, parts } = tree;
  if (name === "x") return x[parts[0] as number]!;
  const [a, b = 0] = parts.map((part) => evaluate(part, x)) as [number, number?];
  if (name === "sine") return Math.sin(a);
  if (name === "sum") return a + b;
  if (name === "difference") return a - b;
  return name === "product" ? a * b : a / (2 + b * b);
}

function ours({ inputs, tree }: Model) {
  const named = Object.fromEntries(
    inputs.map(({ law, estimate, u, degrees }, k) => {
      const about = { label: `x${k}`, estimate: plain(estimate) };
      const half = (times: number) => ({ ...about, halfWidth: plain(u * Math.sqrt(times)) });
      if (law === "normal") return [`x${k}`, input.normal({ ...about, standardUncertainty: plain(u) })];
      if (law === "rectangular") return [`x${k}`, input.rectangular(half(3))];
      if (law === "triangular") return [`x${k}`, input.triangular(half(6))];
      if (law === "arcsine") return [`x${k}`, input.arcsine(half(2))];
      return [`x${k}`, input.t({ ...about, standardUncertainty: plain(u), degreesOfFreedom: degrees })];
    }),
  );
  const names = inputs.map((_, k) => `x${k}`);
  return budgetOfNumbers({
    measurand: "a random model",
    inputs: named,
    units: Object.fromEntries(names.map((name) => [name, "1" as const])),
    result: { kind: "number", unit: "1" },
    model: (numbers) =>
      evaluate(
        tree,
        names.map((name) => numbers[name]!),
      ),
  });
}

it("agrees with numpy's own generator on 200 random models, laws and bends of all sorts", ({ skip }) => {
  const models = Array.from({ length: 200 }, (_, k) => randomModel(k + 1));
  const run = spawnSync(python, [join(import.meta.dirname, "monte_carlo_models.py")], {
    input: JSON.stringify(models),
    encoding: "utf8",
    maxBuffer: 1e8,
    env: { ...process.env, PYTHONDONTWRITEBYTECODE: "1" },
  });
  if (run.status !== 0) {
    const why = run.error?.message ?? run.stderr.trim().split("\n").at(-1);
    if (process.env.CI === "true") throw new Error(`${python} did not run numpy: ${why}`);
    console.log(`skipped: ${python} did not run numpy (${why})`);
    return skip();
  }
  const answers = JSON.parse(run.stdout) as readonly Answer[];
  let farthest = 0;
  models.forEach((model, k) => {
    const theirs = answers[k]!;
    const simulated = ours(model).simulate({ seed: k, trials: 50_000 });
    const [low, high] = simulated.symmetric.map((end) => end.in("1"));
    const figures = [simulated.value.in("1"), simulated.standardUncertainty!.in("1"), low!, high!];
    const wanted = [theirs.mean, theirs.u, theirs.low, theirs.high];
    figures.forEach((figure, i) => {
      const off = Math.abs(figure - wanted[i]!) / (Math.SQRT2 * theirs.scatter[i]!);
      farthest = Math.max(farthest, off);
      // 800 comparisons: five standard deviations are passed by chance once in two thousand such tests
      expect(off, `model ${k}, ${["mean", "u", "low", "high"][i]}`).toBeLessThan(5);
    });
  });
  console.log(
    `200 models: of 800 simulated figures the farthest is ${farthest.toFixed(1)} standard deviations of two simulations off`,
  );
  expect(farthest).toBeGreaterThan(2);
});

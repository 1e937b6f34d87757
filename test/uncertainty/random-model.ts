import { type RandomStream, randomStream } from "../../kernel-lib/src/numerics/index.js";
import { plain } from "../../kernel-lib/src/quantity/index.js";
import { type Budget, budgetOfNumbers, correlated, type Input, input } from "../../kernel-lib/src/uncertainty/index.js";

/** A formula made at random: as text that Python reads too, and as a function. */
interface Formula {
  readonly text: string;
  readonly at: (x: readonly number[]) => number;
}

export interface RandomModel {
  readonly text: string;
  readonly values: readonly number[];
  readonly us: readonly number[];
  readonly laws: readonly ("normal" | "rectangular" | "triangular" | "arcsine")[];
  readonly r: readonly (readonly number[])[];
  readonly correlated: boolean;
  readonly at: (x: readonly number[]) => number;
}

const laws = ["normal", "rectangular", "triangular", "arcsine"] as const;

/** A smooth model of two to five inputs, each known to 0.5 to 5 %, every other model with correlated normal inputs. */
export function randomModel(number: number): RandomModel {
  const stream = randomStream(2024, number);
  const count = 2 + Math.floor(4 * stream.uniform());
  const each = <T>(of: () => T) => Array.from({ length: count }, of);
  const values = each(() => 0.5 + 2 * stream.uniform());
  const us = values.map((v) => v * (0.005 + 0.045 * stream.uniform()));
  const isCorrelated = number % 2 === 1;
  // every input takes part, whatever the random tree has picked
  const tail = each(() => 0.1 + stream.uniform());
  const tree = formula(stream, count, 4);
  return {
    text: `${tree.text} + ${tail.map((c, i) => `${c} * x${i}`).join(" + ")}`,
    values,
    us,
    laws: each(() => (isCorrelated ? "normal" : laws[Math.floor(4 * stream.uniform())]!)),
    r: coefficients(stream, count, isCorrelated),
    correlated: isCorrelated,
    at: (x) => tail.reduce((sum, c, i) => sum + c * x[i]!, tree.at(x)),
  };
}

export function budgetOf({ values, us, laws, r, correlated: isCorrelated, at }: RandomModel): Budget<"number"> {
  const single = values.map((value, i) => inputOf(laws[i]!, `x${i}`, value, us[i]!));
  const given = isCorrelated ? correlated(single, r) : single;
  const names = values.map((_, i) => `x${i}`);
  return budgetOfNumbers({
    measurand: "y",
    inputs: Object.fromEntries(names.map((name, i) => [name, given[i]!])),
    units: Object.fromEntries(names.map((name) => [name, "1" as const])),
    result: { kind: "number", unit: "1" },
    model: (x) => at(names.map((name) => x[name]!)),
  });
}

function inputOf(law: RandomModel["laws"][number], label: string, value: number, u: number): Input<"number"> {
  const estimate = plain(value);
  if (law === "normal") return input.normal({ label, estimate, standardUncertainty: plain(u) });
  const factor = { rectangular: Math.sqrt(3), triangular: Math.sqrt(6), arcsine: Math.SQRT2 }[law];
  return input[law]({ label, estimate, halfWidth: plain(u * factor) });
}

function formula(stream: RandomStream, count: number, depth: number): Formula {
  if (depth === 0 || stream.uniform() < 0.15) {
    const i = Math.floor(count * stream.uniform());
    return { text: `x${i}`, at: (x) => x[i]! };
  }
  const a = formula(stream, count, depth - 1);
  const pick = Math.floor(8 * stream.uniform());
  if (pick >= 4) return one(pick, a);
  const b = formula(stream, count, depth - 1);
  return two(pick, a, b);
}

function one(pick: number, a: Formula): Formula {
  if (pick === 4) return { text: `sin(${a.text})`, at: (x) => Math.sin(a.at(x)) };
  if (pick === 5) return { text: `sqrt(1 + (${a.text})**2)`, at: (x) => Math.sqrt(1 + a.at(x) ** 2) };
  if (pick === 6) return { text: `log(2 + (${a.text})**2)`, at: (x) => Math.log(2 + a.at(x) ** 2) };
  return { text: `exp(-((${a.text})**2) / 9)`, at: (x) => Math.exp(-(a.at(x) ** 2) / 9) };
}

function two(pick: number, a: Formula, b: Formula): Formula {
  if (pick === 0) return { text: `(${a.text} + ${b.text})`, at: (x) => a.at(x) + b.at(x) };
  if (pick === 1) return { text: `(${a.text} - ${b.text})`, at: (x) => a.at(x) - b.at(x) };
  if (pick === 2) return { text: `(${a.text}) * (${b.text})`, at: (x) => a.at(x) * b.at(x) };
  return { text: `(${a.text}) / (2 + (${b.text})**2)`, at: (x) => a.at(x) / (2 + b.at(x) ** 2) };
}

/** correlation coefficients of random sums of normal values: always a matrix that can be */
function coefficients(stream: RandomStream, count: number, isCorrelated: boolean): number[][] {
  const rows = Array.from({ length: count }, () => Array.from({ length: count + 1 }, () => stream.normal()));
  const dot = (a: readonly number[], b: readonly number[]) => a.reduce((sum, v, k) => sum + v * b[k]!, 0);
  const r = (i: number, j: number) =>
    dot(rows[i]!, rows[j]!) / Math.sqrt(dot(rows[i]!, rows[i]!) * dot(rows[j]!, rows[j]!));
  const off = (i: number, j: number) => (isCorrelated ? r(Math.min(i, j), Math.max(i, j)) : 0);
  return rows.map((_, i) => rows.map((_, j) => (i === j ? 1 : off(i, j))));
}

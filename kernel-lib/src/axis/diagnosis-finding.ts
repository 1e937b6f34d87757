import { tCdf } from "../numerics/index.js";
import { printNumber } from "../quantity/print.js";

/** One cause looked for. */
export interface AxisFinding {
  /** "play", "pitch error" */
  readonly cause: string;
  readonly verdict: "seen" | "suspected" | "not seen" | "can't be told";
  /** that scatter, gauge and reference alone would show as much; missing where it can't be told */
  readonly chance?: number;
  /** what speaks for it, or why it can't be told */
  readonly evidence: string;
  /** what to do at the machine */
  readonly next: string;
}

/** below these a cause is seen, or suspected */
const limits = { seen: 0.01, suspected: 0.1 } as const;

export interface Words {
  readonly evidence: string;
  /** what to do where it is there, and where it is not */
  readonly next: string;
  readonly otherwise?: string;
}

/** A finding by its chance. */
export function judged(cause: string, chance: number, { evidence, next, otherwise = "nothing" }: Words): AxisFinding {
  const verdict = chance < limits.seen ? "seen" : chance < limits.suspected ? "suspected" : "not seen";
  return { cause, verdict, chance, evidence, next: verdict === "not seen" ? otherwise : next };
}

/** A finding that this test can't make. */
export function untold(cause: string, evidence: string, next: string): AxisFinding {
  return { cause, verdict: "can't be told", evidence, next };
}

/** chance that a value of this u and ν lies as far from zero where nothing is there */
export function chanceOf(value: number, u: number, degreesOfFreedom: number): number {
  return 2 * tCdf(-Math.abs(value) / u, degreesOfFreedom);
}

/** "less than 1 in 1000", "0.032" */
export function chanceWords(chance: number): string {
  return chance < 0.001 ? "less than 1 in 1000" : printNumber(chance, 2);
}

import type { Caveat } from "../uncertainty/index.js";
import type { Finding } from "./finding.js";
import type { Health } from "./health.js";

/** checks whose answer is in the map: drift is taken out and its doubt is in U, a place not probed is no place of it */
const inTheMap = ["drift", "blanks"];

/**
 * Findings of a survey's health check that ask for something to be done: `stop` and `check`, but for drift and blank cells,
 * which the map has dealt with. A map carries them to every
 * figure made from it; the check is run when they are first asked for.
 */
export class OpenFindings implements Caveat {
  readonly #health: () => Health;
  #found: readonly Finding[] | undefined;

  constructor(
    readonly survey: string,
    health: () => Health,
  ) {
    this.#health = health;
  }

  /** the worst first, as in the health check */
  get findings(): readonly Finding[] {
    this.#found ??= this.#health().findings.filter(
      ({ severity, check }) => severity !== "note" && !inTheMap.includes(check),
    );
    return this.#found;
  }

  /** The first finding and what to do about it; the others counted. Nothing where nothing is open. */
  sentence(): string | undefined {
    const [first, ...others] = this.findings;
    if (!first) return undefined;
    const head = first.severity === "stop" ? "misleading as it stands" : "to be looked at first";
    const rest = others.length === 0 ? "" : `; ${others.length} more ${others.length === 1 ? "is" : "are"} open there`;
    return `${head}, says the health check of "${this.survey}": ${shortened(first.what)}; ${first.whatToDo}${rest}`;
  }
}

/** without what the reader of the health check itself is told besides */
function shortened(what: string): string {
  return what.split("; ")[0]!;
}

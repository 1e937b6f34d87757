import { MeasurementError } from "../measurement-error.js";
import { type Length, mm, Quantity } from "../quantity/index.js";
import { type Gauge, gauge, type Slot } from "../survey/index.js";
import { pathProblem } from "./archive-path.js";
import type { StarterOptions } from "./starter.js";

/** What the reader typed, each an answer in words. */
export interface StarterAnswers {
  readonly name: string;
  readonly table: string;
  readonly resolution: string;
  readonly error: string;
  readonly machine?: string | undefined;
  readonly workshop?: string | undefined;
  readonly gauge?: string | undefined;
  readonly analogue?: boolean | undefined;
  readonly fraction?: string | undefined;
  readonly "per-turn"?: string | undefined;
  readonly hysteresis?: string | undefined;
  readonly pitch?: string | undefined;
  readonly slot?: readonly string[] | undefined;
  readonly passes?: string | undefined;
  readonly units?: string | undefined;
  readonly heights?: string | undefined;
  readonly paper?: string | undefined;
}

/** a table of half a metre is usual; ten are a slip of the unit */
const largestTable = mm(10_000);

/**
 * What a starter is made from, out of what was typed; each answer that can't be read is refused with one sentence.
 *
 * @throws MeasurementError `new`
 */
export function starterOptions(answers: StarterAnswers): StarterOptions {
  const table = tableOf(answers.table);
  const units = oneOf("units", answers.units ?? (inInches(answers.table) ? "inch" : "metric"), ["metric", "inch"]);
  const zUnit = oneOf("heights", answers.heights ?? (units === "inch" ? "thou" : "um"), ["um", "thou", "tenth"]);
  const passes = Number(answers.passes ?? "2");
  if (!(Number.isInteger(passes) && passes >= 1 && passes <= 20)) {
    refuse(
      `--passes "${answers.passes}" is no whole number from 1 to 20; give 2, as one can't tell swarf from the table`,
    );
  }
  return {
    name: nameOf(answers.name),
    machine: words("machine", answers.machine ?? "my machine"),
    ...(answers.workshop !== undefined && { workshop: words("workshop", answers.workshop) }),
    table,
    ...(answers.pitch !== undefined && { pitch: length("pitch", answers.pitch) }),
    slots: (answers.slot ?? []).map(slotOf),
    gauge: gaugeOf(answers),
    asWritten: {
      "gauge resolution": answers.resolution.trim(),
      "gauge maximum permissible error": answers.error.trim(),
      ...(answers["per-turn"] !== undefined && { "gauge range per turn": answers["per-turn"].trim() }),
      ...(answers.hysteresis !== undefined && { "gauge hysteresis": answers.hysteresis.trim() }),
    },
    units,
    zUnit,
    passes,
    paper: oneOf("paper", answers.paper ?? (units === "inch" ? "Letter" : "A4"), ["A4", "Letter"]),
  };
}

function nameOf(name: string): string {
  const problem = name.includes("/") ? "holds a slash" : pathProblem(name);
  if (problem !== undefined || name.startsWith(".") || /[`'\]]/.test(name)) {
    refuse(
      `the name ${JSON.stringify(name)} ${problem ?? "can't name a file here"}; use letters, digits, dash, underscore`,
    );
  }
  return name;
}

function gaugeOf(answers: StarterAnswers): Gauge {
  const { fraction, hysteresis, "per-turn": turn } = answers;
  const part = fraction === undefined ? undefined : Number(fraction.replace(",", "."));
  if (part !== undefined && !(part > 0 && part <= 1)) {
    refuse(`--fraction "${fraction}" is no number above 0 and up to 1; give 0.5 for half a division`);
  }
  return gauge({
    ...(answers.gauge !== undefined && { name: words("gauge", answers.gauge) }),
    resolution: length("resolution", answers.resolution),
    maximumPermissibleError: length("error", answers.error),
    ...((answers.analogue || part !== undefined) && { display: "analogue" }),
    ...(part !== undefined && { fractionEstimated: part }),
    ...(turn !== undefined && { rangePerTurn: length("per-turn", turn) }),
    ...(hysteresis !== undefined && { hysteresis: length("hysteresis", hysteresis) }),
  });
}

function tableOf(written: string): readonly [Length, Length] {
  const [x = "", y = "", ...rest] = written.split(/\s*[x×]\s*/u);
  const unit = /[^\d.,\s]+\s*$/.exec(y)?.[0] ?? "";
  if (y === "" || rest.length > 0) {
    refuse(`--table "${written}" is not length × depth; write it like "520 mm x 230 mm"`);
  }
  const sides = [/[^\d.,\s]/.test(x) ? x : `${x} ${unit}`, y].map((side) => length("table", side));
  const [along, across] = sides as [Length, Length];
  if (along.isGreater(largestTable) || across.isGreater(largestTable)) {
    refuse(`--table "${written}" is longer than 10 m; check the unit`);
  }
  return [along, across];
}

function slotOf(written: string): Slot {
  const [along, at, width, ...rest] = written.split(",").map((part) => part.trim());
  if ((along !== "x" && along !== "y") || at === undefined || width === undefined || rest.length > 0) {
    return refuse(
      `--slot "${written}" is not which way it runs, where its middle is, how wide it is; write it like "x, 115 mm, 14 mm"`,
    );
  }
  return { along, at: length("slot", at), width: length("slot", width) };
}

function length(option: string, written: string): Length {
  try {
    const made = Quantity.parse("length", written);
    if (made.si > 0) return made;
  } catch {
    // told below, with the name of the option
  }
  return refuse(`--${option} "${written}" is no length above zero; write it like "12.5 mm", "2 um" or "0.0005 in"`);
}

/** a line of words: it must not open a line of its own in the sheet */
function words(option: string, written: string): string {
  const line = written.replace(/\s+/g, " ").trim();
  if (line === "" || line.length > 100 || /[,;"]$/.test(line)) {
    refuse(`--${option} ${JSON.stringify(written)} is not a line of up to 100 signs; leave it out, or name it shorter`);
  }
  return line;
}

function oneOf<T extends string>(option: string, written: string, known: readonly T[]): T {
  const found = known.find((word) => word.toLowerCase() === written.toLowerCase());
  return found ?? refuse(`--${option} "${written}" is not known; give ${known.join(" or ")}`);
}

function inInches(written: string): boolean {
  return /(?:in|inch|")\s*$/.test(written);
}

function refuse(sentence: string): never {
  throw new MeasurementError("new", `new: ${sentence}`);
}

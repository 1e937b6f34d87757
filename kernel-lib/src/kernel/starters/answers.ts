import { MeasurementError } from "../../measurement-error.js";
import { type Length, mm, Quantity, type Slope } from "../../quantity/index.js";
import { type Gauge, gauge } from "../../survey/index.js";
import { pathProblem } from "../archive-path.js";

/** What the reader typed, each an answer in words. */
export interface StarterAnswers {
  readonly name: string;
  /** what is to be measured: table unless said otherwise */
  readonly for?: string | undefined;
  readonly table?: string | undefined;
  readonly axis?: string | undefined;
  readonly travel?: string | undefined;
  readonly reference?: string | undefined;
  readonly lead?: string | undefined;
  readonly radius?: string | undefined;
  readonly legs?: string | undefined;
  readonly foot?: string | undefined;
  readonly rounds?: string | undefined;
  readonly hours?: string | undefined;
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

export function nameOf(name: string): string {
  const problem = name.includes("/") ? "holds a slash" : pathProblem(name);
  if (problem !== undefined || name.startsWith(".") || /[`'\]]/.test(name)) {
    refuse(
      `the name ${JSON.stringify(name)} ${problem ?? "can't name a file here"}; use letters, digits, dash, underscore`,
    );
  }
  return name;
}

export function gaugeOf(answers: StarterAnswers): Gauge {
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

export function length(option: string, written: string): Length {
  try {
    const made = Quantity.parse("length", written);
    if (made.si > 0) return made;
  } catch {
    // told below, with the name of the option
  }
  return refuse(`--${option} "${written}" is no length above zero; write it like "12.5 mm", "2 um" or "0.0005 in"`);
}

/** "520 mm x 230 mm", "20 x 9 in" */
export function tableOf(written: string): readonly [Length, Length] {
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

export function slope(option: string, written: string): Slope {
  try {
    const made = Quantity.parse("slope", written);
    if (made.si > 0) return made;
  } catch {
    // told below, with the name of the option
  }
  return refuse(`--${option} "${written}" is no inclination above zero; write it like "10 um/m" or "5 arcsec"`);
}

/** what must be there, as a work that needs it was asked for */
export function needed(answers: StarterAnswers, key: keyof StarterAnswers): string {
  const given = answers[key];
  return typeof given === "string" ? given : refuse(`--${key} is missing; see dialbook new --help`);
}

export function wholeNumber(option: string, written: string, [least, most]: readonly [number, number]): number {
  const made = Number(written);
  if (Number.isInteger(made) && made >= least && made <= most) return made;
  return refuse(`--${option} "${written}" is no whole number from ${least} to ${most}`);
}

/** a line of words: it must not open a line of its own in the sheet */
export function words(option: string, written: string): string {
  const line = written.replace(/\s+/g, " ").trim();
  if (line === "" || line.length > 100 || /[,;"]$/.test(line)) {
    refuse(`--${option} ${JSON.stringify(written)} is not a line of up to 100 signs; leave it out, or name it shorter`);
  }
  return line;
}

export function oneOf<T extends string>(option: string, written: string, known: readonly T[]): T {
  const found = known.find((word) => word.toLowerCase() === written.toLowerCase());
  return found ?? refuse(`--${option} "${written}" is not known; give ${known.join(" or ")}`);
}

export function inInches(written: string): boolean {
  return /(?:in|inch|")\s*$/.test(written);
}

export function refuse(sentence: string): never {
  throw new MeasurementError("new", `new: ${sentence}`);
}

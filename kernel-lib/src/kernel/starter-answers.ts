import type { Slot } from "../survey/index.js";
import type { StarterOptions } from "./starter.js";
import { inInches, length, needed, refuse, type StarterAnswers, tableOf } from "./starters/answers.js";
import { commonOf } from "./starters/common.js";

/**
 * What a starter is made from, out of what was typed; each answer that can't be read is refused with one sentence.
 *
 * @throws MeasurementError `new`
 */
export function starterOptions(answers: StarterAnswers): StarterOptions {
  const given = needed(answers, "table");
  const passes = Number(answers.passes ?? "2");
  if (!(Number.isInteger(passes) && passes >= 1 && passes <= 20)) {
    refuse(
      `--passes "${answers.passes}" is no whole number from 1 to 20; give 2, as one can't tell swarf from the table`,
    );
  }
  return {
    ...commonOf(answers, inInches(given)),
    table: tableOf(given),
    ...(answers.pitch !== undefined && { pitch: length("pitch", answers.pitch) }),
    slots: (answers.slot ?? []).map(slotOf),
    passes,
  };
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

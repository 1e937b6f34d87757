import { existsSync } from "node:fs";
import { join } from "node:path";
import { isMainThread, parentPort, Worker, workerData } from "node:worker_threads";
import { MeasurementError } from "../../measurement-error.js";
import type { Finding } from "../../survey/finding.js";
import { parseSheet, sourceOfText } from "../../survey/parse-sheet.js";
import { Survey } from "../../survey/survey.js";
import { readingCells } from "../../survey/unread-column.js";
import { isOther, otherWords } from "../sheet-words.js";

/** What the survey's own checks say of a sheet as far as it is filled in; one sentence where they cannot run yet. */
export interface SheetHealth {
  readonly sentence?: string;
  readonly findings: readonly Finding[];
}

/** from so many characters on the checks take longer than a page may be kept waiting */
const large = 60_000;

/** The checks of a survey on the text of its sheet; a large one is checked beside the server, which goes on serving. */
export function healthOf(text: string, name: string): Promise<SheetHealth> {
  const built = join(__dirname, "sheet-health.js");
  if (text.length < large || !existsSync(built)) return Promise.resolve(check(text, name));
  return new Promise((resolve, reject) => {
    const worker = new Worker(built, { workerData: { sheetText: text, name } });
    worker.once("message", resolve);
    worker.once("error", reject);
  });
}

function check(text: string, name: string): SheetHealth {
  try {
    const others = otherHealth(text, name);
    if (others) return others;
    const survey = Survey.fromSheet(parseSheet(sourceOfText(text), { name }));
    if (survey.readings().length === 0) return { findings: [] };
    return { findings: survey.health().findings.map((finding) => ({ ...finding })) };
  } catch (error) {
    if (!(error instanceof MeasurementError)) throw error;
    return { sentence: error.message, findings: [] };
  }
}

/** of a sheet that is none of a survey: what is made of it once no reading is blank */
function otherHealth(text: string, name: string): SheetHealth | undefined {
  if (!isOther(text, name)) return undefined;
  if (readingCells(text, name).blank > 0) return { findings: [] };
  const [what = "", ...notes] = otherWords(text, name) ?? [];
  const told = { check: "result", severity: "note", places: [], whatToDo: "the notebook shows the working" } as const;
  return { findings: [{ ...told, what, howSure: notes.length === 0 ? "as its ± says" : notes.join("; ") }] };
}

const asked = workerData as { readonly sheetText?: unknown; readonly name?: unknown } | null;
if (!isMainThread && typeof asked?.sheetText === "string") {
  parentPort?.postMessage(check(asked.sheetText, String(asked.name)));
}

import { isDeepStrictEqual } from "node:util";
import * as fc from "fast-check";
import { MeasurementError } from "../../kernel-lib/src/measurement-error.js";
import { parseSurvey } from "../../kernel-lib/src/survey/survey.js";
import { evenly } from "../evenly.js";

const text = fc
  .string({ unit: "grapheme", minLength: 1, maxLength: 12 })
  .map((s) => s.replaceAll(/[\p{Cc}\p{Zl}\p{Zp}\uFEFF]/gu, "·"));
const words = text.map((s) => s.trim()).filter((s) => s !== "");
const place = words.filter((s) => !/[:#]/.test(s) && !/^datum/i.test(s));
const value = fc.oneof(
  fc.integer({ min: -50, max: 50 }),
  evenly(-1e3, 1e3),
  fc.double({ min: -1e3, max: 1e3, noNaN: true }),
);
const cell = (s: string | number | null) => (s === null ? "" : `"${String(s).replaceAll('"', '""')}"`);

/** Texts of sheets that are right, with whatever a person may write into them. */
export const goodSheet = fc
  .record({
    title: words,
    notes: fc.array(words, { maxLength: 3 }),
    places: fc.uniqueArray(fc.record({ label: place, x: value, y: value }), {
      minLength: 1,
      maxLength: 8,
      selector: (p) => p.label,
    }),
    passes: fc.integer({ min: 1, max: 3 }),
    zUnit: fc.constantFrom("um", "mm", "thou", "tenth", "in"),
    resolution: evenly(1e-3, 50),
    front: fc.constantFrom(
      ["y-", "right", "back"],
      ["y+", "left", "front"],
      ["x-", "back", "left"],
      ["x+", "front", "right"],
    ),
  })
  .chain((made) =>
    fc
      .array(fc.record({ z: fc.option(value, { freq: 6 }), note: fc.option(words), temperature: fc.option(value) }), {
        minLength: made.places.length * made.passes,
        maxLength: made.places.length * made.passes,
      })
      .map((cells) => sheetText(made, [{ ...cells[0]!, z: cells[0]!.z ?? 1 }, ...cells.slice(1)])),
  );

function sheetText(
  made: {
    title: string;
    notes: string[];
    places: { label: string; x: number; y: number }[];
    passes: number;
    zUnit: string;
    resolution: number;
    front: readonly string[];
  },
  cells: { z: number | null; note: string | null; temperature: number | null }[],
): string {
  const [front, plusX, plusY] = made.front;
  const lines = [
    `"# title: ${made.title.replaceAll('"', '""')}"`,
    ...made.notes.map((note) => `"# note: ${note.replaceAll('"', '""')}"`),
    "# relative to: gravity",
    `# front: ${front}`,
    `# +x: ${plusX}`,
    `# +y: ${plusY}`,
    `# gauge resolution: ${made.resolution} um`,
    "# gauge maximum permissible error: 0.3 thou",
    `place,x/mm,y/in,z/${made.zUnit},pass,temperature/degC,note`,
  ];
  cells.forEach(({ z, note, temperature }, i) => {
    const { label, x, y } = made.places[i % made.places.length]!;
    const pass = Math.floor(i / made.places.length) + 1;
    lines.push([label, x, y, z, pass, temperature, note].map(cell).join(","));
  });
  return `${lines.join("\n")}\n`;
}

/** A sheet written from what was read is the same sheet. */
export function staysTheSame(sheet: string): boolean {
  const survey = parseSurvey(sheet);
  const again = parseSurvey(survey.toCsv());
  const seen = (s: typeof survey) => [s.readings(), s.blanks, s.gauge, s.frame, s.notes, s.title, s.surface()];
  return isDeepStrictEqual(seen(again), seen(survey)) && again.toCsv() === survey.toCsv();
}

/** Damage done to a text: pieces cut out, doubled, or replaced by what sheets go wrong with. */
export const damage = fc.array(
  fc.record({
    at: evenly(0, 1),
    length: fc.integer({ min: 0, max: 30 }),
    put: fc.oneof(
      fc.constantFrom(
        "",
        '"',
        ",",
        ";",
        "\t",
        "\n",
        "\r\n",
        "#",
        "# ",
        ":",
        "0",
        "-",
        "NaN",
        "1e999",
        "١",
        "−",
        "/",
        "\\",
        "\uFEFF",
        "\0",
        "datum",
        "y/mm \\ x/mm z/um",
      ),
      fc.string({ unit: "binary", maxLength: 5 }),
    ),
  }),
  { minLength: 1, maxLength: 5 },
);

/** Reads or refuses with one of our sentences, within a second; what it reads also has a health and a map. */
export function readsOrRefuses(sheet: string, blows: readonly { at: number; length: number; put: string }[]): string {
  let harmed = sheet;
  for (const { at, length, put } of blows) {
    const start = Math.floor(at * harmed.length);
    harmed = harmed.slice(0, start) + put + harmed.slice(start + length);
  }
  const started = process.cpuUsage();
  try {
    const survey = parseSurvey(harmed);
    survey.health().toString();
    const finite = survey.surface().places.every((p) => Number.isFinite(p.zUm) && Number.isFinite(p.xMm));
    if (!finite) return "a height that is no number";
  } catch (error) {
    if (!(error instanceof MeasurementError)) return `threw ${error}`;
    if (/undefined|\[object|NaN(?!")/.test(error.message.replaceAll(/"(?:[^"\\]|\\.)*"/g, ""))) return error.message;
    if (error.message.endsWith(".")) return `ends in a period: ${error.message}`;
  }
  const { user, system } = process.cpuUsage(started);
  return user + system < 1e6 ? "" : "took more than a second of the processor";
}

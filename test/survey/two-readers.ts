import { isDeepStrictEqual } from "node:util";
import * as fc from "fast-check";
import { MeasurementError } from "../../kernel-lib/src/measurement-error.js";
import {
  type ParseOptions,
  parseCarefully,
  parseSheet,
  sourceOfText,
} from "../../kernel-lib/src/survey/parse-sheet.js";
import { scanSheet } from "../../kernel-lib/src/survey/scan-sheet.js";

/** what a row cell may hold, right and wrong */
const number = fc.oneof(
  { weight: 8, arbitrary: fc.integer({ min: -2000, max: 2000 }).map((n) => (n / 1000).toString()) },
  { weight: 4, arbitrary: fc.integer({ min: -99, max: 99 }).map(String) },
  { weight: 2, arbitrary: fc.double({ min: -1e3, max: 1e3, noNaN: true }).map(String) },
  fc.constantFrom(
    "",
    " ",
    "-0",
    "+3.",
    ".5",
    "-.25",
    "1e-7",
    "−4",
    "1,5",
    "12345678901234567890.5",
    "3 µm",
    "NaN",
    "\u00a07",
    "0.1 ",
  ),
);
const place = fc.oneof(
  { weight: 12, arbitrary: fc.constantFrom("A1", "A2", "A3", "B1", "B2", "datum", "datum 2", " C1 ", "Ä1") },
  fc.constantFrom("", "#x", "a:b", "\u00a0A1", "x".repeat(41), "é".repeat(30), "\uD800", "\uFEFFA1", "A\t1"),
);
const row = fc.record({
  place,
  x: fc.oneof({ weight: 12, arbitrary: fc.constantFrom("0", "0.0", "50") }, number),
  y: fc.constantFrom("0", "0", "0", ""),
  z: number,
  pass: fc.oneof(
    { weight: 12, arbitrary: fc.integer({ min: 1, max: 9 }).map(String) },
    fc.constantFrom("0", "1.5", "", "1000000"),
  ),
  order: fc.oneof({ weight: 8, arbitrary: fc.integer({ min: 1, max: 60 }).map(String) }, fc.constant("")),
  time: fc.constantFrom("19:05", "7:00:30", "", "24:00", "5"),
  approach: fc.constantFrom("+x", "-x", ""),
  note: fc.constantFrom("", "", "ok", 'a "b"', "ä", "#1", "one  two "),
});

/** Texts of long sheets, most of them right, in any of the shapes that spreadsheets write. */
export const longSheet = fc
  .record({
    rows: fc.array(row, { minLength: 1, maxLength: 12 }),
    columns: fc.subarray(["order", "time", "approach", "note"]),
    separator: fc.constantFrom(",", ";", "\t"),
    end: fc.constantFrom("\n", "\r\n", "\r"),
    last: fc.boolean(),
    mark: fc.constantFrom("", "\uFEFF"),
    comma: fc.boolean(),
    order: fc.constantFrom("", "# order: unknown", "# order: as written", "# order: odd"),
    extra: fc.constantFrom("", "", "SEP", "SEPSEP ", "\n", "# late"),
    tidy: fc.boolean(),
  })
  .map(({ rows, columns, separator, end, last, mark, comma, order, extra, tidy }) => {
    const head = ["# relative to: travel", "# front: y-", "# +x: right", "# +y: back", "# gauge resolution: 1 um"];
    const names = ["place", "x/mm", "y/mm", "z/um", "pass", ...columns];
    const keys = ["place", "x", "y", "z", "pass", ...columns] as (keyof (typeof rows)[0])[];
    const lines = rows.map((cells, i) => {
      const made = tidy
        ? { ...cells, place: `P${i % 5}`, x: String(i % 5), y: "0", pass: String(i + 1), time: "" }
        : cells;
      const texts = keys.map((key) => (comma && separator !== "," ? made[key].replace(".", ",") : made[key]));
      return texts.join(separator) + extra.replaceAll("SEP", separator);
    });
    const all = [...head, "# gauge maximum permissible error: 4 um", ...(order ? [order] : []), names.join(separator)];
    return mark + [...all, ...lines].join(end) + (last ? end : "");
  });

type Outcome = { readonly sheet: unknown } | { readonly refused: string };

/** What the two ways make of a text; `quick` tells whether the quick one read it. */
export function bothWays(text: string, options: ParseOptions = {}): { same: boolean; quick: boolean; said: string } {
  const outcome = (read: () => unknown): Outcome => {
    try {
      return { sheet: read() };
    } catch (error) {
      if (!(error instanceof MeasurementError)) throw error;
      return { refused: `${error.code} ${error.message}` };
    }
  };
  const source = sourceOfText(text);
  const one = outcome(() => parseSheet(source, options));
  const other = outcome(() => parseCarefully(text, options));
  const quick = scanSheet(source.bytes!, "sheet", options.columns) !== undefined;
  return { same: isDeepStrictEqual(one, other), quick, said: JSON.stringify([text, one, other]).slice(0, 2000) };
}

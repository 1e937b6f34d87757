import { createRequire } from "node:module";
import * as fc from "fast-check";
import { expect, it } from "vitest";
import { notebookText, parseNotebook } from "../../kernel-lib/src/kernel/notebook-file.js";
import { decode, encode, header, WireError } from "../../kernel-lib/src/kernel/wire.js";
import { MeasurementError } from "../../kernel-lib/src/measurement-error.js";
import { parseQuantity } from "../../kernel-lib/src/quantity/parse.js";
import { parseSurvey } from "../../kernel-lib/src/survey/survey.js";
import { workbookText } from "../../kernel-lib/src/survey/workbook.js";
import { evenly } from "../evenly.js";

const limit = { interruptAfterTimeLimit: 60_000, markInterruptAsFailure: false };
/** longest time for one input, in ms of the processor, whatever else the machine does */
const longest = 1000;

/**
 * Runs a reader on many inputs: it gives a value or refuses with one sentence of ours, within a second each.
 *
 * @param least so many inputs must have been read within the minute for the test to say anything
 */
function holds<T>(
  what: string,
  inputs: fc.Arbitrary<T>,
  numRuns: number,
  least: number,
  read: (input: T) => void,
): void {
  const seen = { read: 0, refused: 0 };
  const before = process.cpuUsage();
  let slowest = 0;
  fc.assert(
    fc.property(inputs, (input) => {
      const started = process.cpuUsage();
      try {
        read(input);
        seen.read++;
      } catch (error) {
        if (!(error instanceof MeasurementError || error instanceof WireError)) throw error;
        expect(error.message).toMatch(/\S/);
        expect(error.message).not.toContain("\n");
        expect(error.message.length).toBeLessThan(2000);
        seen.refused++;
      }
      const { user, system } = process.cpuUsage(started);
      slowest = Math.max(slowest, (user + system) / 1000);
    }),
    { numRuns, seed: 31, ...limit },
  );
  const { user, system } = process.cpuUsage(before);
  const count = seen.read + seen.refused;
  const each = (user + system) / count / 1000;
  console.log(
    `${what}: ${count} of ${numRuns}, ${seen.read} read, ${seen.refused} refused, ${each.toFixed(2)} ms each, slowest ${slowest.toFixed(0)} ms`,
  );
  expect(count).toBeGreaterThanOrEqual(least);
  expect(Math.min(seen.read, seen.refused)).toBeGreaterThan(0);
  expect(slowest).toBeLessThan(longest);
}

/** Values made once and drawn again and again, in all mixtures: making each anew took most of the minute. */
function madeOnce<T>(values: fc.Arbitrary<T>, count: number): fc.Arbitrary<T> {
  return fc.constantFrom(...fc.sample(values, { numRuns: count, seed: 7 }));
}

const kinds = ["length", "temperature", "force", "slope", "number"] as const;
const pieces = fc.constantFrom(
  "1",
  "12",
  "0.5",
  "3,5",
  "−2",
  "-",
  "+",
  "e5",
  "e999",
  ".",
  ",",
  " ",
  "mm",
  "µm",
  "μm",
  "in",
  '"',
  "°C",
  "K",
  "N",
  "%",
  "\u0663",
  "\u00a0",
  "/",
  "um/m",
  "NaN",
  "Infinity",
  "0x1",
  "1 000",
);
const quantityTexts = fc.oneof(
  { weight: 4, arbitrary: fc.array(pieces, { maxLength: 6 }).map((parts) => parts.join("")) },
  { weight: 1, arbitrary: fc.string({ unit: "binary", maxLength: 40 }) },
  { weight: 1, arbitrary: fc.double({ noNaN: true, noDefaultInfinity: true }).map((value) => `${value} mm`) },
);

it("a quantity as a person may write it, 100,000 times", () => {
  holds("quantities", fc.tuple(fc.constantFrom(...kinds), quantityTexts), 100_000, 20_000, ([kind, text]) => {
    expect(Number.isFinite(parseQuantity(kind, text))).toBe(true);
  });
});

const wildCells = fc.constantFrom("", "0", "-3", "12O", "1e3", "=A1", "−4", "9,5", "#", '"');
const heights = fc.oneof(fc.integer().map(String), fc.constantFrom("", "0", "-3", "1e3", "−4"));
const rowOf = (cells: fc.Arbitrary<string>) => madeOnce(fc.array(cells, { minLength: 6, maxLength: 6 }), 2000);
const row = fc.oneof({ weight: 9, arbitrary: rowOf(heights) }, rowOf(wildCells));
/** a grid of so many columns, now and then with rows that are wider */
const grid = fc
  .record({
    rows: fc.array(row, { minLength: 1, maxLength: 8 }),
    columns: fc.integer({ min: 1, max: 6 }),
    more: fc.constantFrom(0, 0, 0, 0, 0, 0, 1),
  })
  .map(({ rows, columns, more }) => [
    "# relative to: travel\n# front: y-\n# +x: right\n# +y: back\n# gauge resolution: 1 um\n# gauge maximum permissible error: 4 um",
    `y/mm \\ x/mm z/um,${Array.from({ length: columns }, (_, i) => i * 40).join(",")}`,
    ...rows.map((cells, i) => [i * 30, ...cells.slice(0, columns + more)].join(",")),
  ]);

it("a grid of heights with cells of all sorts, 100,000 times", () => {
  holds("grids", grid, 100_000, 5000, (lines) => {
    const { places } = parseSurvey(lines.join("\n")).surface();
    expect(places.every(({ zUm, xMm, yMm }) => [zUm, xMm, yMm].every(Number.isFinite))).toBe(true);
  });
});

const anyJson = madeOnce(fc.jsonValue({ maxDepth: 3 }), 5000);
const cell = fc.record(
  {
    cell_type: fc.oneof({ weight: 8, arbitrary: fc.constantFrom("code", "markdown", "raw") }, anyJson),
    id: fc.oneof(fc.constantFrom("a", "b"), anyJson),
    metadata: fc.oneof(fc.constant({}), anyJson),
    source: fc.oneof(fc.constantFrom("1", ["1\n", "2"]), anyJson),
    execution_count: fc.oneof(fc.constant(null), anyJson),
    attachments: fc.oneof(fc.constant({}), anyJson),
    outputs: fc.oneof(
      fc.array(
        fc.record(
          {
            output_type: fc.oneof(fc.constantFrom("stream", "error", "display_data", "execute_result"), anyJson),
            data: fc.oneof(
              madeOnce(
                fc.dictionary(fc.constantFrom("text/plain", "text/html", "application/json", "__proto__"), anyJson),
                5000,
              ),
              anyJson,
            ),
            text: anyJson,
            traceback: anyJson,
          },
          { requiredKeys: ["output_type"] },
        ),
        { maxLength: 3 },
      ),
      anyJson,
    ),
  },
  { requiredKeys: ["cell_type"] },
);
const notebooks = fc
  .record({
    nbformat: fc.oneof({ weight: 9, arbitrary: fc.constant(4) }, anyJson),
    nbformat_minor: fc.oneof({ weight: 9, arbitrary: fc.constantFrom(0, 4, 5, 9) }, anyJson),
    metadata: fc.oneof(fc.constant({}), anyJson),
    cells: fc.oneof({ weight: 9, arbitrary: fc.array(cell, { maxLength: 4 }) }, anyJson),
    cut: fc.oneof({ weight: 9, arbitrary: fc.constant(0) }, fc.integer({ min: 1, max: 40 })),
  })
  .map(({ cut, ...raw }) => JSON.stringify(raw).slice(cut));

it("a notebook with anything in it: what is read is written, and read to the same again, 100,000 times", () => {
  holds("notebooks", notebooks, 100_000, 10_000, (text) => {
    const first = notebookText(parseNotebook(text, "a.ipynb"));
    expect(notebookText(parseNotebook(first, "a.ipynb"))).toBe(first);
  });
});

const frames = fc.oneof(
  fc
    .array(
      fc.oneof(
        fc.constantFrom("<IDS|MSG>", "{}", "[]", "null", "{", ""),
        madeOnce(fc.string({ unit: "binary", maxLength: 30 }), 5000),
      ),
      { maxLength: 9 },
    )
    .map((texts) => texts.map((text) => Buffer.from(text))),
  fc
    .tuple(
      madeOnce(fc.dictionary(fc.string({ maxLength: 5 }), anyJson), 5000),
      fc.nat(8),
      fc.nat(200),
      fc.nat(255),
      fc.boolean(),
    )
    .map(([content, frame, at, byte, harm]) => {
      const sent = encode("key", {
        identities: [Buffer.from("id")],
        header: header("execute_request", "s"),
        parent: {},
        metadata: {},
        content,
      });
      const hit = sent[frame % sent.length]!;
      if (harm && hit.length > 0) hit[at % hit.length] = byte;
      return sent;
    }),
);

it("a message on the wire: whole as it was sent, or refused, 100,000 times", () => {
  holds("messages", frames, 100_000, 20_000, (sent) => {
    const message = decode("key", sent);
    expect(JSON.stringify(message.content)).toBe(sent.at(-1)!.toString("utf8"));
  });
});

const book = createRequire(import.meta.url)("xlsx") as {
  utils: {
    book_new(): object;
    aoa_to_sheet(rows: unknown[][]): Record<string, object>;
    book_append_sheet(book: object, sheet: object, name: string): void;
  };
  write(book: object, options: object): Uint8Array;
};
const top = [
  "relative to: travel",
  "front: y-",
  "+x: right",
  "+y: back",
  "gauge resolution: 1 um",
  "gauge maximum permissible error: 4 um",
];
const table = [
  ...top.map((line) => [`# ${line}`]),
  ["place", "x/mm", "y/mm", "z/um", "pass"],
  ["A1", 0, 0, 3, 1],
  ["B1", 50, 0, -2, 1],
  ["C1", 50, 40, 1, 1],
];
const wild = fc.oneof(
  fc.constant({ t: "z" }),
  fc.record({
    t: fc.constant("n"),
    v: fc.double({ noDefaultInfinity: true, noNaN: true }),
    z: fc.constantFrom("General", "hh:mm", "yyyy-mm-dd", "0.00"),
  }),
  fc.record({ t: fc.constant("s"), v: fc.string({ maxLength: 12 }) }),
  fc.record({ t: fc.constant("b"), v: fc.boolean() }),
  fc.record({ t: fc.constant("e"), v: fc.constantFrom(0x07, 0x2a) }),
  fc.record({ t: fc.constant("n"), v: fc.integer(), f: fc.constant("1+1") }),
);
const wholeBooks = madeOnce(
  fc
    .array(fc.tuple(fc.constantFrom("A8", "B8", "C9", "D9", "D10", "A7", "D7", "E8", "A1"), wild), { maxLength: 3 })
    .map((cells) => {
      const page = book.utils.aoa_to_sheet(table);
      for (const [at, value] of cells) page[at] = value;
      const made = book.utils.book_new();
      book.utils.book_append_sheet(made, page, "readings");
      return Uint8Array.from(book.write(made, { type: "buffer", bookType: "xlsx" }));
    }),
  1000,
);
const workbooks = fc
  .record({
    whole: wholeBooks,
    blows: fc.array(fc.tuple(evenly(0, 0.999), fc.nat(255)), { maxLength: 3 }),
    cut: fc.oneof({ weight: 6, arbitrary: fc.constant(1) }, evenly(0, 1)),
  })
  .map(({ whole, blows, cut }) => {
    const bytes = whole.slice();
    for (const [at, byte] of blows) bytes[Math.floor(at * bytes.length)] = byte;
    return bytes.slice(0, Math.ceil(cut * bytes.length));
  });

it("a workbook with wild cells and damaged bytes, 10,000 times", () => {
  holds("workbooks", workbooks, 10_000, 500, (bytes) => {
    const { places } = parseSurvey(workbookText(bytes, "a.xlsx", undefined)).surface();
    expect(places.every(({ zUm, xMm, yMm }) => [zUm, xMm, yMm].every(Number.isFinite))).toBe(true);
  });
});

import { copyFileSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import ts from "typescript";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import * as dialbook from "../../kernel-lib/src/index.js";
import { randomStream } from "../../kernel-lib/src/numerics/index.js";
import { display } from "../../kernel-lib/src/quantity/display-member.js";
import { code, files, read, root } from "../notebooks/chapter-runs.js";

/**
 * A reading is moved by ten of its own standard uncertainties, or taken out, with the checksums gone: a stated number must change, the
 * sheet's health must say so, or the chapter must stop. Cells run in this process, so that many can be tried.
 */

/** ten standard uncertainties of one reading in the unit of its column, from what was planted */
const tenU: { readonly [sheet: string]: number } = {
  "table-before.csv": 9,
  "corner-check-grid.csv": 9,
  "table-stoned.csv": 9,
  "plate-faced.csv": 9,
  "positioning-x.csv": 11,
  "positioning-z.csv": 13,
  "ladder-x.csv": 7,
  "ladder-z-free.csv": 8,
  "ladder-z-pulled.csv": 8,
  "warm-up-spindle.csv": 5,
  "gauge-one-evening.csv": 9,
  "gauge-three-days.csv": 9,
  "gauge-lever.csv": 8,
  "odd-first.csv": 9,
  "odd-second.csv": 9,
  "odd-second-again.csv": 9,
  "odd-third.csv": 0.4,
  "odd-third-corrected.csv": 0.4,
  // 2.5 µm/m of scatter in divisions of 20 µm/m, read to a fifth
  "levels-table.csv": 1.4,
  "levels-plate.csv": 1.4,
  "sweep-head.csv": 8,
  "square-y-to-x.csv": 7,
};
/** chapters on which a decision rests: nothing may pass unseen in them */
const decisive = /the-table-as-found|what-the-form|the-error-budget|the-decision|did-it-help/;
const perSheet = { moved: 2, removed: 1 };

type Seen = "stated number" | "health" | "stopped" | "shown number" | "nothing";

interface Run {
  /** stated figures that the cells no longer compute */
  readonly differ: number;
  readonly health: string;
  readonly shown: string;
  readonly stopped?: string;
}

let folder = "";
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "chapters-"));
  for (const name of readdirSync(join(root, "data"))) {
    if (/\.(csv|jsonl?)$/.test(name) && name !== "checksums.csv")
      copyFileSync(join(root, "data", name), join(folder, name));
  }
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** the cells as one function; what a cell ends on is handed to `shown` */
function compiled(name: string): (library: object, shown: (value: unknown) => void) => void {
  const cells = code(read(name)).map(({ source }) => {
    const parsed = ts.createSourceFile("cell.ts", source, ts.ScriptTarget.ES2022, true);
    const last = parsed.statements.at(-1);
    if (!last || !ts.isExpressionStatement(last)) return source;
    return `${source.slice(0, last.getStart())}shown(${last.expression.getText()});`;
  });
  const { outputText } = ts.transpileModule(cells.join("\n;\n").replaceAll("../data/", `${folder}/`), {
    compilerOptions: { module: ts.ModuleKind.CommonJS, target: ts.ScriptTarget.ES2022 },
  });
  const run = new Function("require", "exports", "shown", outputText);
  return (library, shown) => run(() => library, {}, shown);
}

function runOf(chapter: ReturnType<typeof compiled>): Run {
  const surveys: dialbook.Survey[] = [];
  const shown: string[] = [];
  let differ = 0;
  const library = {
    ...dialbook,
    readSurvey: (...given: Parameters<typeof dialbook.readSurvey>) => {
      const survey = dialbook.readSurvey(...given);
      surveys.push(survey);
      return survey;
    },
    confirmStated: (...given: Parameters<typeof dialbook.confirmStated>) => {
      try {
        return dialbook.confirmStated(...given);
      } catch {
        differ++;
        return undefined;
      }
    },
    versions: () => undefined,
  };
  const textOf = (value: unknown) => {
    const bundle = (value as { [display]?: () => { "text/plain"?: string } } | undefined)?.[display]?.();
    shown.push(bundle?.["text/plain"] ?? String(value));
  };
  let stopped: string | undefined;
  try {
    chapter(library, textOf);
  } catch (error) {
    stopped = String(error);
  }
  const health = surveys.flatMap((survey) =>
    survey.health().findings.map((f) => `${f.check} ${f.severity} ${f.places}`),
  );
  return { differ, health: health.join("\n"), shown: shown.join("\n"), ...(stopped === undefined ? {} : { stopped }) };
}

function seen(before: Run, after: Run): Seen {
  if (after.stopped !== undefined) return "stopped";
  if (after.differ > 0) return "stated number";
  if (after.health !== before.health) return "health";
  return after.shown === before.shown ? "nothing" : "shown number";
}

interface Cell {
  readonly line: number;
  readonly column: number;
  readonly isGrid: boolean;
}

/** the readings of a sheet: where each stands in its text */
function readings(lines: readonly string[]): Cell[] {
  let column = -1;
  let isGrid = false;
  return lines.flatMap((text, line) => {
    if (text.startsWith("#") || text === "") return [];
    const cells = text.split(",");
    if (text.startsWith("y/mm \\ x/mm")) {
      isGrid = true;
      return [];
    }
    if (column < 0 && !isGrid) {
      column = cells.findIndex((cell) => /^(z|value|deviation|reading|nose)\//.test(cell));
      return [];
    }
    if (isGrid) return cells.slice(1).map((_, k) => ({ line, column: k + 1, isGrid }));
    return /^-?\d/.test(cells[column] ?? "") ? [{ line, column, isGrid }] : [];
  });
}

/** the sheet with one reading moved, or without it: blank on a survey's sheet, without its row on any other */
function changed(lines: readonly string[], { line, column, isGrid }: Cell, by: number | undefined): string {
  const cells = lines[line]!.split(",");
  const isSurvey = isGrid || lines.some((text) => text.startsWith("place,x/mm"));
  if (by === undefined && !isSurvey) return lines.filter((_, i) => i !== line).join("\n");
  cells[column] = by === undefined ? "" : String(Number((Number(cells[column]) + by).toFixed(2)));
  return lines.map((text, i) => (i === line ? cells.join(",") : text)).join("\n");
}

const chapters = files.filter((name) => /^\d/.test(name) && !/^(00|15)-/.test(name));
const counts = new Map<Seen, number>();
const unseen: string[] = [];

describe.each(chapters)("%s", (name) => {
  const text = code(read(name))
    .map(({ source }) => source)
    .join("\n");
  const sheets = [...new Set([...text.matchAll(/\.\.\/data\/([\w-]+\.csv)/g)].map((found) => found[1]!))].filter(
    (sheet) => tenU[sheet] !== undefined,
  );

  it("sees a reading that was moved by ten of its own u, or taken out", { timeout: 600_000 }, () => {
    const chapter = compiled(name);
    const before = runOf(chapter);
    expect([before.stopped, before.differ]).toEqual([undefined, 0]);
    const passed: string[] = [];
    sheets.forEach((sheet, k) => {
      const lines = readFileSync(join(root, "data", sheet), "utf8").split("\n");
      const all = readings(lines);
      expect(all.length, sheet).toBeGreaterThan(5);
      const random = randomStream(20261129, 100 * chapters.indexOf(name) + k);
      for (let i = 0; i < perSheet.moved + perSheet.removed; i++) {
        const cell = all[Math.floor(random.uniform() * all.length)]!;
        const by = i < perSheet.moved ? (random.uniform() < 0.5 ? -1 : 1) * tenU[sheet]! : undefined;
        writeFileSync(join(folder, sheet), changed(lines, cell, by));
        const found = seen(before, runOf(chapter));
        counts.set(found, (counts.get(found) ?? 0) + 1);
        const what = `${sheet} line ${cell.line + 1} ${by === undefined ? "taken out" : `moved by ${by}`}: ${found}`;
        if (found === "nothing" || found === "shown number") {
          unseen.push(`${name}: ${what}`);
          passed.push(what);
        }
      }
      copyFileSync(join(root, "data", sheet), join(folder, sheet));
    });
    // what moves no stated number and no finding is listed below as without influence, but never where a decision rests
    if (decisive.test(name)) expect(passed).toEqual([]);
  });
});

it("says how the changes were seen, and which were without influence", () => {
  const total = [...counts.values()].reduce((sum, count) => sum + count, 0);
  const share = (kind: Seen) => `${kind} ${counts.get(kind) ?? 0}`;
  console.log(
    `${total} readings changed: ${(["stated number", "health", "stopped", "shown number", "nothing"] as const).map(share).join(", ")}`,
  );
  console.log(`without influence on a stated number:\n  ${unseen.join("\n  ") || "none"}`);
  expect(total).toBeGreaterThan(40);
  expect(counts.get("nothing") ?? 0).toBeLessThanOrEqual(0.1 * total);
});

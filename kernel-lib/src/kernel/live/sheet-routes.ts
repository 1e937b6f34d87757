import type { SheetEdit } from "../../survey/sheet-text.js";
import type { LiveContext } from "./live-context.js";
import { needPath } from "./place.js";
import { Refused } from "./refused.js";
import type { Answer, Json, Route } from "./route.js";
import { copySheet, loadSheet, saveSheet, versionOf } from "./sheet-file.js";
import { healthOf } from "./sheet-health.js";

/** a pasted column of 10⁴ readings with times and notes */
const largestSave = 8_000_000;

/** The addresses of the reading sheet. */
export function sheetRoutes({ project }: LiveContext): readonly Route[] {
  return [
    { method: "GET", path: "/dialbook/sheet", answer: ({ query }) => load(project, query) },
    {
      method: "PUT",
      path: "/dialbook/sheet",
      largest: largestSave,
      answer: async (asked) => save(project, await asked.json()),
    },
    {
      method: "GET",
      path: "/dialbook/sheet/health",
      answer: async ({ query }) => {
        const { text, name, version } = loadSheet(project, needPath(query.get("path"), "health"));
        return { json: { version, ...(await healthOf(text, name)) } };
      },
    },
    {
      method: "POST",
      path: "/dialbook/sheet/copy",
      answer: async (asked) => {
        const { path, to, reason } = await asked.json();
        const made = copySheet(project, needPath(path, "copy"), String(to ?? ""), String(reason ?? ""));
        return { status: 201, json: { path: made } };
      },
    },
  ];
}

function load(project: string, query: URLSearchParams): Answer {
  const path = needPath(query.get("path"), "sheet");
  const known = query.get("known");
  if (known !== null && known === versionOf(project, path)) return { json: { same: true } };
  return { json: loadSheet(project, path) };
}

function save(project: string, asked: Json): Answer {
  const path = needPath(asked.path, "sheet");
  try {
    return { json: { version: saveSheet(project, path, String(asked.base ?? ""), editsOf(asked.edits, path)) } };
  } catch (error) {
    if (!(error instanceof Refused) || error.code !== "changed-on-disk") throw error;
    return { status: 409, json: { message: error.message, reason: error.code, disk: loadSheet(project, path) } };
  }
}

function editsOf(given: unknown, path: string): readonly SheetEdit[] {
  if (Array.isArray(given) && given.every(isEdit)) return given;
  throw new Refused(400, "edits", `${path}: the edits are not understood; nothing was saved: load the page again`);
}

function isEdit(given: unknown): given is SheetEdit {
  const { row, column, head, note, to } = (given ?? {}) as Json;
  if (typeof note === "string") return note.length <= longest;
  if (typeof to !== "string" || to.length > longest) return false;
  return typeof head === "string" ? /^[^:#\r\n]{1,60}$/.test(head) : isCount(row) && isCount(column);
}

const longest = 2000;

function isCount(given: unknown): boolean {
  return Number.isInteger(given) && (given as number) >= 0;
}

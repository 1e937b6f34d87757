import { existsSync, realpathSync } from "node:fs";
import { dirname, join, sep } from "node:path";
import { pathProblem } from "../archive-path.js";
import { isBelow } from "../files-used.js";
import { Refused } from "./refused.js";

/** the folders a page may look into */
export const openFolders = ["notebooks", "data"] as const;

/** A file or folder that a page names, inside the project for certain. */
export interface Place {
  /** with forward strokes, below the project: "notebooks/my-mill.ipynb" */
  readonly path: string;
  /** whole path on the disk */
  readonly file: string;
}

/**
 * Where a path of a page lies on the disk.
 *
 * @throws Refused `outside` for a path that climbs out, by its words or by a link, `dot-file`, `not-open` for a folder
 * that is not shown
 */
export function placeOf(project: string, given: string): Place {
  const path = given.replace(/^\/(?!\/)|\/$/g, "");
  const problem = pathProblem(path);
  if (problem !== undefined) throw outside(given, problem);
  const parts = path.split("/");
  if (parts.some((part) => part.startsWith("."))) {
    throw new Refused(403, "dot-file", `${JSON.stringify(given)}: files that begin with a dot are not opened here`);
  }
  if (!openFolders.some((folder) => folder === parts[0])) {
    throw new Refused(
      403,
      "not-open",
      `${JSON.stringify(given)}: only what lies in ${openFolders.join("/ or ")}/ is opened here; copy the file there`,
    );
  }
  const file = join(project, ...parts);
  const top = join(realpathSync(project), parts[0] ?? "");
  const real = resolved(file);
  // a folder may itself stand elsewhere, but then it is not this project's
  if (real !== top && !isBelow(top, real)) throw outside(given, "leads out of the folder by a link");
  return { path, file };
}

/** A path that a request of the page must hold. */
export function needPath(given: unknown, what: string): string {
  if (typeof given === "string") return given;
  throw new Refused(400, "no-path", `${what}: the path is missing; give one like "notebooks/my-mill.ipynb"`);
}

/** links resolved as far as the path is there */
function resolved(file: string): string {
  const missing: string[] = [];
  for (let there = file; ; there = dirname(there)) {
    if (isThere(there)) return [realpathSync(there), ...missing].join(sep);
    if (there === dirname(there)) return file;
    missing.unshift(there.slice(dirname(there).length + 1));
  }
}

function isThere(path: string): boolean {
  return existsSync(path);
}

function outside(given: string, problem: string): Refused {
  return new Refused(
    403,
    "outside",
    `${JSON.stringify(given)}: ${problem}; only files of this project's notebooks/ and data/ are opened here`,
  );
}

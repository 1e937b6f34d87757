import { existsSync, readdirSync } from "node:fs";
import { basename, dirname, join, resolve } from "node:path";
import { MeasurementError } from "../measurement-error.js";
import { alike } from "../survey/likeness.js";

/** The folder of the project: the nearest one upwards that has notebooks, or the folder itself. */
export function projectFolder(from: string): string {
  for (let folder = resolve(from); ; folder = dirname(folder)) {
    if (existsSync(join(folder, "notebooks"))) return folder;
    if (folder === dirname(folder)) return resolve(from);
  }
}

/**
 * The notebooks to run, as whole paths: those named, or all chapters in the order of their names.
 *
 * A chapter may be named by its path, or by its number or the beginning of its name. Left out by default are the blank
 * starter and files that begin with an underscore.
 */
export function chapters(project: string, named: readonly string[], from: string, command = "run"): string[] {
  const found =
    named.length === 0 ? allChapters(project, command) : named.map((name) => chapter(project, name, from, command));
  const twice = found.find((path, index) => found.findIndex((other) => basename(other) === basename(path)) < index);
  if (twice !== undefined) {
    throw new MeasurementError(
      "chapter-twice",
      `${command}: two chapters are called ${basename(twice)}; take them one at a time`,
    );
  }
  return found;
}

function allChapters(project: string, command: string): string[] {
  const found = notebooksOf(project).filter((name) => !/^(blank|_)/.test(name));
  if (found.length === 0) {
    throw new MeasurementError(
      "no-chapters",
      `${command}: there is no notebook in ${join(project, "notebooks")}; name one`,
    );
  }
  return found.map((name) => join(project, "notebooks", name));
}

function chapter(project: string, name: string, from: string, command: string): string {
  const path = resolve(from, name);
  if (name.endsWith(".ipynb") && existsSync(path)) return path;
  const begins = notebooksOf(project).filter((file) =>
    isNumber(name) ? numberOf(file) === Number(name) : file.startsWith(name),
  );
  const exact = begins.find((file) => file === `${name}.ipynb`);
  const found = exact ?? (begins.length === 1 ? begins[0] : undefined);
  if (found !== undefined) return join(project, "notebooks", found);
  const [near] = isNumber(name) ? [] : alike(name, notebooksOf(project).map(stem));
  const none = near === undefined ? "names no notebook" : `names no notebook, the nearest is "${near}"`;
  const problem = begins.length === 0 ? none : `may be ${begins.join(" or ")}`;
  throw new MeasurementError(
    "chapter",
    `${command}: "${name}" ${problem}; give a path, a chapter's number or its name`,
  );
}

function notebooksOf(project: string): string[] {
  const folder = join(project, "notebooks");
  if (!existsSync(folder)) return [];
  return readdirSync(folder)
    .filter((name) => name.endsWith(".ipynb") && !name.startsWith("."))
    .sort((a, b) => stem(a).localeCompare(stem(b), "en", { numeric: true }));
}

function isNumber(name: string): boolean {
  return /^\d+$/.test(name);
}

/** the number a chapter begins with: 1 of 01-the-table.ipynb */
function numberOf(file: string): number {
  return Number(/^\d+/.exec(file)?.[0] ?? Number.NaN);
}

function stem(file: string): string {
  return basename(file, ".ipynb");
}

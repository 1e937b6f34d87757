import { existsSync, realpathSync } from "node:fs";
import Module, { createRequire } from "node:module";
import { basename, dirname, join, sep } from "node:path";
import ts from "@tslab/typescript-for-tslab";

/**
 * Finds the package that the cells of a folder import; where the folder knows none, lends it the one this kernel belongs
 * to, for running and for type checks, so that a notebook kept anywhere works.
 *
 * @returns the folder of the package's compiled files
 */
export function findPackage(notebookFolder: string): string {
  const found = resolveFrom(notebookFolder);
  if (found) return dirname(found);
  const shelf = shelfOf(dirname(dirname(__dirname)));
  if (shelf) lend(shelf, notebookFolder);
  return dirname(__dirname);
}

function resolveFrom(folder: string): string | undefined {
  try {
    return createRequire(join(folder, "cell.js")).resolve("dialbook");
  } catch {
    return undefined;
  }
}

/** The node_modules folder that holds this package under its own name, by a link or in itself. */
function shelfOf(home: string): string | undefined {
  if (basename(dirname(home)) === "node_modules") return dirname(home);
  for (let folder = dirname(home); folder !== dirname(folder); folder = dirname(folder)) {
    const link = join(folder, "node_modules", "dialbook");
    if (existsSync(link) && realpathSync(link) === realpathSync(home)) return dirname(link);
  }
  return undefined;
}

/** Packages of the shelf are found as if they stood in the notebook's own node_modules. */
function lend(shelf: string, notebookFolder: string): void {
  process.env.NODE_PATH = [shelf, process.env.NODE_PATH].filter(Boolean).join(process.platform === "win32" ? ";" : ":");
  const readAgain: unknown = Reflect.get(Module, "_initPaths");
  if (typeof readAgain === "function") readAgain.call(Module);
  const local = `${join(notebookFolder, "node_modules").split(sep).join("/")}/`;
  const { readFile, fileExists, directoryExists, realpath } = ts.sys;
  const known = (path: string): boolean => fileExists.call(ts.sys, path) || directoryExists.call(ts.sys, path);
  const moved = (path: string): string =>
    path.startsWith(local) && !known(path) ? join(shelf, path.slice(local.length)) : path;
  ts.sys.readFile = (path, encoding) => readFile.call(ts.sys, moved(path), encoding);
  ts.sys.fileExists = (path) => fileExists.call(ts.sys, moved(path));
  ts.sys.directoryExists = (path) => directoryExists.call(ts.sys, moved(path));
  if (realpath) ts.sys.realpath = (path) => realpath.call(ts.sys, moved(path));
}

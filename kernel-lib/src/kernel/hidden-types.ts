import { readFileSync } from "node:fs";
import { basename, join } from "node:path";
import ts from "@tslab/typescript-for-tslab";

const typeRoot = /[\\/]node_modules[\\/]@types[\\/]?$/;

/**
 * Keeps the compiler from reading all of `node_modules/@types` at its start: it takes every package in for the sake of
 * the names they declare for everywhere, and most cells mention none. `@types/node` alone stays in view, until a cell
 * imports a package of others or a complaint names what one of them declares.
 */
export class HiddenTypes {
  private hidden = true;
  private readonly watchers: (() => void)[] = [];
  private readonly packages = new Set<string>();
  private declared: ReadonlySet<string> | undefined;

  constructor() {
    const { getDirectories, watchDirectory } = ts.sys;
    ts.sys.getDirectories = (path) => {
      const all = getDirectories.call(ts.sys, path);
      return this.hidden && typeRoot.test(path) ? this.inView(path, all) : all;
    };
    if (!watchDirectory) return;
    ts.sys.watchDirectory = (path, callback, ...rest) => {
      if (typeRoot.test(path)) this.watchers.push(() => callback(join(path, "node")));
      return watchDirectory.call(ts.sys, path, callback, ...rest);
    };
  }

  /** true when a complaint misses a name that one of them declares, and none was in view before */
  showFor(complaint: string): boolean {
    const name = /^Cannot find name(?:space)? '([^']+)'/.exec(complaint)?.[1];
    if (!this.hidden || name === undefined) return false;
    this.declared ??= new Set([...this.packages].flatMap(namesDeclared));
    return this.declared.has(name) && this.show();
  }

  /** true when they were not in view before */
  show(): boolean {
    if (!this.hidden || this.packages.size === 0) return false;
    this.hidden = false;
    for (const changed of this.watchers) changed();
    return true;
  }

  private inView(root: string, all: string[]): string[] {
    const shown = all.filter((name) => basename(name) === "node");
    for (const name of all) if (!shown.includes(name)) this.packages.add(join(root, name));
    return shown;
  }
}

/** every name that stands behind the word of a declaration; more than are in view everywhere, never fewer */
function namesDeclared(folder: string): readonly string[] {
  const declaration = /\b(?:namespace|module|var|let|const|function|class|interface|type|enum)\s+([\w$]+)/g;
  return ts.sys
    .readDirectory(folder, [".d.ts"])
    .flatMap((path) => Array.from(readFileSync(path, "utf8").matchAll(declaration), ([, name = ""]) => name));
}

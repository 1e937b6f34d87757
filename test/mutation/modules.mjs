// The modules that the tests of a folder need, compiled once and evaluated afresh for every mutant.
import { existsSync, readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import { pathToFileURL } from "node:url";
import { Script } from "node:vm";
import { transformSync } from "esbuild";

const parameters = "exports, require, module, __filename, __dirname, importMeta";
const compiled = new Map();

/** A TypeScript file as a script that gives one function of what a CommonJS module is given; syntax errors name the file. */
function compile(path) {
  const { code } = transformSync(readFileSync(path, "utf8"), {
    loader: "ts",
    format: "cjs",
    target: "node20",
    sourcefile: path,
    define: { "import.meta.url": "importMeta.url", "import.meta.dirname": "importMeta.dirname" },
  });
  const script = new Script(`(function (${parameters}) {${code}\n})`, { filename: path });
  return { script, packages: createRequire(path), resolved: new Map() };
}

function unitOf(path) {
  if (!compiled.has(path)) compiled.set(path, compile(path));
  return compiled.get(path);
}

/** the TypeScript file that an import of ours means, or undefined for a package */
function fileOf(unit, from, name) {
  if (!name.startsWith(".")) return undefined;
  if (!unit.resolved.has(name)) {
    const path = join(dirname(from), name).replace(/\.js$/, ".ts");
    unit.resolved.set(name, existsSync(path) ? path : undefined);
  }
  return unit.resolved.get(name);
}

/**
 * A set of modules that know nothing of what an earlier set did. Packages are shared between sets: no mutant is in them.
 * `standIns` are given for the packages they name.
 */
export function freshModules(standIns) {
  const loaded = new Map();
  function load(path) {
    const known = loaded.get(path);
    if (known) return known.exports;
    const unit = unitOf(path);
    const module = { exports: {} };
    loaded.set(path, module);
    const requireFrom = (name) => {
      const file = fileOf(unit, path, name);
      return file ? load(file) : (standIns[name] ?? unit.packages(name));
    };
    // a new function each time: what the optimiser learnt from another set's classes would only slow this one down
    const evaluate = unit.script.runInThisContext();
    const importMeta = { url: pathToFileURL(path).href, dirname: dirname(path) };
    evaluate(module.exports, requireFrom, module, path, dirname(path), importMeta);
    return module.exports;
  }
  return load;
}

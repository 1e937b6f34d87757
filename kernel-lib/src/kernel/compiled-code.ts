import { createHash, randomUUID } from "node:crypto";
import { mkdirSync, readdirSync, readFileSync, renameSync, rmSync, statSync, writeFileSync } from "node:fs";
import Module, { createRequire } from "node:module";
import { dirname, join, sep } from "node:path";
import { cachedDataVersionTag } from "node:v8";
import vm from "node:vm";

/** engines that files are kept for: another Node, the same one with a debugger */
const mostKept = 4;
const digestBytes = 32;
/** only the compiler itself is longer */
const longestRead = 2_000_000;

interface Kept {
  /** size and times of the file that was compiled: with another of them it is another file */
  readonly state: string;
  readonly data: Buffer;
}

type Compile = (this: Module, content: string, filename: string, format?: string) => unknown;

/**
 * What the engine compiled of this package, its compiler and its sockets, kept from one start to the next: ten megabytes
 * of text are half a second of work.
 *
 * It is code that runs, so it stands beside the code it came from, belongs to whoever runs it, can be written to by
 * nobody else, and is taken whole with a matching digest or not at all. Where it can't be read or written, the engine
 * compiles as ever.
 */
export class CompiledCode {
  /** modules taken from what was kept */
  taken = 0;
  private readonly path: string;
  private readonly kept: ReadonlyMap<string, Kept>;
  private readonly loaded = new Map<string, vm.Script>();
  /** a file is another than the one that was kept */
  private outdated = false;

  /** @param folder where it is kept; @param sources folders whose modules it is kept of */
  constructor(
    folder: string,
    private readonly sources: readonly string[],
  ) {
    this.path = join(folder, `${process.version}-${process.arch}-${cachedDataVersionTag().toString(16)}.bin`);
    this.kept = read(this.path);
  }

  /** Modules loaded from now on are taken from what was kept, where it is of the same file. */
  use(): void {
    const compiled = this;
    const modules = Module.prototype as unknown as { _compile: Compile };
    const original = modules._compile;
    modules._compile = function (content, filename, ...format) {
      const run = format[0] === "module" ? undefined : compiled.wrapper(content, filename);
      if (!run) return original.call(this, content, filename, ...format);
      return run.call(this.exports, this.exports, requireOf(this), this, filename, dirname(filename));
    };
  }

  /** Keeps what was compiled, where nothing was kept before or it was of other files; @returns whether it did */
  keep(): boolean {
    if (this.loaded.size === 0 || (this.kept.size > 0 && !this.outdated)) return false;
    try {
      replace(this.path, written(this.loaded));
      tidy(dirname(this.path));
      return true;
    } catch {
      return false;
    }
  }

  private wrapper(content: string, filename: string): ((...given: unknown[]) => unknown) | undefined {
    if (!this.sources.some((folder) => filename.startsWith(folder + sep)) || mayImport(content)) return undefined;
    const found = this.kept.get(filename);
    try {
      const cachedData = found?.state === stateOf(filename) ? found.data : undefined;
      this.outdated ||= found !== undefined && !cachedData;
      const options = { filename, ...(cachedData && { cachedData }) };
      const script = new vm.Script(Module.wrap(content), options);
      this.loaded.set(filename, script);
      if (cachedData && !script.cachedDataRejected) this.taken++;
      return script.runInThisContext() as (...given: unknown[]) => unknown;
    } catch {
      // not what it is taken for, such as a module of the other kind: Node knows
      return undefined;
    }
  }
}

/** A module that asks for others while it runs is Node's to compile. The compiler has the word in its texts alone. */
function mayImport(content: string): boolean {
  return content.length < longestRead && /\bimport\s*\(/.test(content);
}

/** What is kept for the kernels of this package: of itself, of what runs the cells and of the sockets. */
export function ownCompiledCode(): CompiledCode {
  const dist = dirname(__dirname);
  const packages = ["tslab", "@tslab/typescript-for-tslab", "zeromq"];
  return new CompiledCode(join(dist, "compiled"), [
    dist,
    ...packages.map((name) => dirname(require.resolve(`${name}/package.json`))),
  ]);
}

/** whole or not at all, for its owner alone */
function replace(path: string, content: Buffer): void {
  mkdirSync(dirname(path), { recursive: true, mode: 0o700 });
  const beside = join(dirname(path), `.${randomUUID()}`);
  try {
    writeFileSync(beside, content, { mode: 0o600, flag: "wx" });
    renameSync(beside, path);
  } finally {
    rmSync(beside, { force: true });
  }
}

function tidy(folder: string): void {
  const age = (path: string): number => statSync(path, { throwIfNoEntry: false })?.mtimeMs ?? 0;
  const all = readdirSync(folder).map((name) => join(folder, name));
  for (const old of all.sort((a, b) => age(b) - age(a)).slice(mostKept)) rmSync(old, { force: true });
}

function requireOf(module: Module): NodeJS.Require {
  const { resolve, main, extensions, cache } = createRequire(module.filename);
  return Object.assign((id: string): unknown => module.require(id), { resolve, main, extensions, cache });
}

function stateOf(path: string): string {
  const { size, mtimeMs, ctimeMs } = statSync(path);
  return `${size} ${mtimeMs} ${ctimeMs}`;
}

/** digest of the rest, length of the list, list of files, their data one after the other */
function written(scripts: ReadonlyMap<string, vm.Script>): Buffer {
  const parts = Array.from(scripts, ([path, script]) => ({ path, data: script.createCachedData() }));
  const list = Buffer.from(JSON.stringify(parts.map(({ path, data }) => [path, stateOf(path), data.length])));
  const length = Buffer.alloc(4);
  length.writeUInt32LE(list.length);
  const rest = Buffer.concat([length, list, ...parts.map(({ data }) => data)]);
  return Buffer.concat([createHash("sha256").update(rest).digest(), rest]);
}

/** nothing where it is missing, damaged or open to others */
function read(path: string): ReadonlyMap<string, Kept> {
  const found = new Map<string, Kept>();
  try {
    const { uid, mode } = statSync(path);
    if (process.getuid && (uid !== process.getuid() || (mode & 0o022) !== 0)) return found;
    const all = readFileSync(path);
    const rest = all.subarray(digestBytes);
    if (!createHash("sha256").update(rest).digest().equals(all.subarray(0, digestBytes))) return found;
    let at = 4 + rest.readUInt32LE();
    for (const [file, state, length] of JSON.parse(rest.toString("utf8", 4, at)) as [string, string, number][]) {
      found.set(file, { state, data: rest.subarray(at, at + length) });
      at += length;
    }
    return found;
  } catch {
    return new Map();
  }
}

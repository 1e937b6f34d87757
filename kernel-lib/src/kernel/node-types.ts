import { isBuiltin } from "node:module";
import ts from "@tslab/typescript-for-tslab";
import type { Converter, Diagnostic } from "tslab/dist/converter.js";
import { HiddenTypes } from "./hidden-types.js";

/** Enough of Node for a cell that only computes and prints. Parsing the whole of `@types/node` is half of the start. */
const shortTypes = `
interface Console {
  log(...data: any[]): void; info(...data: any[]): void; warn(...data: any[]): void; error(...data: any[]): void;
  debug(...data: any[]): void; dir(item: any, options?: any): void; table(data: any, columns?: readonly string[]): void;
  group(...label: any[]): void; groupEnd(): void; time(label?: string): void; timeEnd(label?: string): void;
  timeLog(label?: string, ...data: any[]): void; trace(...data: any[]): void; count(label?: string): void;
  countReset(label?: string): void; assert(value: any, ...data: any[]): void;
}
declare var console: Console;
`;

/** names that `@types/node` declares and that are no globals of the running process */
const declaredOnly = new Set(["NodeJS", "require", "module", "exports", "__dirname", "__filename", "Console"]);

/** A complaint about a name or a module that the whole of `@types/node` knows; a slip of the pen is none. */
function mayBeAnswered({ messageText }: Diagnostic): boolean {
  return Array.from(messageText.matchAll(/'([^']+)'/g), ([, name = ""]) => name).some(
    (name) => declaredOnly.has(name) || isBuiltin(name) || Object.hasOwn(globalThis, name),
  );
}

/** another package, whose types may name Node's and what others declare for everywhere */
const imported = /\b(?:from|import|require)\s*\(?\s*["'](?!dialbook["'])([^"'\n]*)/g;
/** more of Node than `console` */
const wantsNode = /\b(?:process|Buffer)\./;

/**
 * A converter that starts with a short declaration of Node's globals and reads the real `@types/node`, and the other
 * packages of `@types`, when a cell first needs them. The look-up is answered in the file system view of the compiler that the cells use, for this process only.
 */
export function nodeTypesOnRequest(create: () => Converter): Converter {
  const types = new ShortNodeTypes();
  const others = new HiddenTypes();
  const inner = create();
  const prepared = (source: string): void => {
    const packages = Array.from(source.matchAll(imported), ([, name = ""]) => name);
    if (packages.length > 0 || wantsNode.test(source)) types.useReal();
    if (packages.some((name) => !isBuiltin(name) && !name.startsWith("."))) others.show();
  };
  return {
    ...inner,
    convert: (declarations, source) => {
      prepared(source);
      const result = inner.convert(declarations, source);
      const answered = [
        result.diagnostics.some(mayBeAnswered) && types.useReal(),
        result.diagnostics.some(({ messageText }) => others.showFor(messageText)),
      ];
      return answered.includes(true) ? inner.convert(declarations, source) : result;
    },
    inspect: (declarations, source, position) => {
      prepared(source);
      return inner.inspect(declarations, source, position);
    },
    complete: (declarations, source, position) => {
      prepared(source);
      return inner.complete(declarations, source, position);
    },
    addModule: (name, content, meta) => {
      prepared(content);
      return inner.addModule(name, content, meta);
    },
  };
}

const nodeIndex = /[\\/]@types[\\/]node[\\/](?:ts[\d.]+[\\/])?index\.d\.ts$/;

class ShortNodeTypes {
  private short = true;
  private readonly watchers: (() => void)[] = [];

  constructor() {
    const { readFile, watchFile } = ts.sys;
    ts.sys.readFile = (path, encoding) =>
      this.short && nodeIndex.test(path) ? shortTypes : readFile.call(ts.sys, path, encoding);
    if (!watchFile) return;
    ts.sys.watchFile = (path, callback, ...rest) => {
      if (nodeIndex.test(path)) this.watchers.push(() => callback(path, ts.FileWatcherEventKind.Changed));
      return watchFile.call(ts.sys, path, callback, ...rest);
    };
  }

  /** true when the real types were not in use before */
  useReal(): boolean {
    if (!this.short) return false;
    this.short = false;
    for (const changed of this.watchers) changed();
    return true;
  }
}

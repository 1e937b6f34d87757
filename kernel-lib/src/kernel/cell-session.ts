import { type Converter, createConverter, type Diagnostic } from "tslab/dist/converter.js";
import { createExecutor, type Executor } from "tslab/dist/executor.js";
import { type CellError, cellFile, thrownError } from "./cell-errors.js";
import { compileError } from "./compile-errors.js";
import { withCompilerTimers } from "./compiler-timers.js";
import { documentationOnRequest } from "./documentation-on-request.js";
import { neededDeclarations } from "./needed-declarations.js";
import { nodeTypesOnRequest } from "./node-types.js";
import { spellOut } from "./shorthand.js";

/** How a cell ended: a value to show (or none), or the reason it stopped. */
export type CellOutcome =
  | { readonly ok: true; readonly shown: boolean; readonly value?: unknown }
  | { readonly ok: false; readonly error: CellError };

/** tslab reports what does not compile through `error` with this format; the diagnostics themselves are taken from the
 * converter, so the report is dropped. */
const diagnosticFormat = "%s%d:%d - %s";

/**
 * Compiles and runs the cells of one notebook, one after the other, on tslab's converter and executor.
 *
 * tslab calls the hook `log` for the value of a last expression only, and `error` for what did not compile and what was
 * thrown; the converter is wrapped to see diagnostics with their places and to give each cell a name in stack traces.
 */
export class CellSession {
  readonly executor: Executor;
  private readonly cells = new Map<number, { source: string; compiled: string }>();
  private readonly converter: Converter;
  private current = { cell: 0, source: "" };
  private diagnostics: readonly Diagnostic[] = [];
  private idle: NodeJS.Timeout | undefined;
  /** what the hooks saw while the cell ran */
  private seen: { value?: { readonly of: unknown }; thrown?: { readonly of: unknown } } = {};

  /** @param offered the names that the package offers for import, told where one of them is missing */
  constructor(
    folder: string,
    private readonly offered: readonly string[] = [],
  ) {
    this.converter = this.wrapped(
      nodeTypesOnRequest(() =>
        neededDeclarations(
          documentationOnRequest(() => withCompilerTimers(() => createConverter({ isJS: false, isBrowser: false }))),
        ),
      ),
    );
    const converters = { node: this.converter, browser: this.converter, close: () => this.converter.close() };
    this.executor = createExecutor(folder, converters, {
      log: (value: unknown) => {
        this.seen.value = { of: value };
      },
      error: (first: unknown) => {
        if (first !== diagnosticFormat) this.seen.thrown = { of: first };
      },
    });
  }

  /** Parses the declarations of a package before a cell asks for it, unless one runs sooner; no name becomes visible. */
  preloadWhenIdle(packageName: string, idleMs: number): void {
    this.idle = setTimeout(() => {
      this.converter.addModule("preloaded", `import ${JSON.stringify(packageName)};`);
      this.diagnostics = [];
    }, idleMs).unref();
  }

  /** Runs one cell. Cells must not overlap: the caller queues them. */
  async run(source: string, cell: number): Promise<CellOutcome> {
    clearTimeout(this.idle);
    this.current = { cell, source };
    this.diagnostics = [];
    const seen: typeof this.seen = {};
    this.seen = seen;
    const finished = await this.executor.execute(source);
    if (this.diagnostics.length > 0) return { ok: false, error: compileError(source, this.diagnostics, this.offered) };
    if (!finished || seen.thrown) return { ok: false, error: this.describe(seen.thrown?.of, cell) };
    return seen.value ? { ok: true, shown: true, value: seen.value.of } : { ok: true, shown: false };
  }

  /** Describes what a cell threw, then or later from a timer. */
  describe(thrown: unknown, cell: number): CellError {
    return thrownError(thrown, cell, this.cells);
  }

  private wrapped(inner: Converter): Converter {
    return {
      ...inner,
      convert: (declarations, source) => {
        const spelled = spellOut(source);
        const converted = inner.convert(declarations, spelled.source);
        // a complaint about another file keeps its place there
        const result = {
          ...converted,
          diagnostics: converted.diagnostics.map((d) => (d.fileName ? d : spelled.typed(d))),
        };
        this.diagnostics = result.diagnostics;
        if (result.output === undefined) return result;
        const { cell } = this.current;
        const prefix = result.hasToplevelAwait ? asyncPrefix : plainPrefix;
        this.cells.set(cell, { source: this.current.source, compiled: prefix + result.output });
        return { ...result, output: `${result.output}\n//# sourceURL=${cellFile(cell)}` };
      },
      addModule: (name, content, meta) => {
        this.diagnostics = inner.addModule(name, content, meta);
        return [...this.diagnostics];
      },
    };
  }
}

/** what tslab puts before a compiled cell, on its first line */
const plainPrefix = "(function(exports, require) { ";
const asyncPrefix = "(async function(exports, require) { ";

import { statSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { code, files, folder, holdChapters, isCode, read, root, runFast } from "./chapter-runs.js";

const words = (text: string) => text.split(/\s+/).filter((word) => /\p{L}/u.test(word)).length;

describe("chapters in the real kernel", () => holdChapters(runFast, 90_000));

it("every cell of every chapter passes the cells' compiler, and one that mixes kinds does not", () => {
  const wrong = 'import { degC, mm } from "dialbook";\nmm(1).plus(degC(20));';
  const texts = new Map(files.map((name) => [name.replace(/ipynb$/, "ts"), sourceOf(name)]));
  expect(compileFindings(texts.set("wrong.ts", wrong))).toEqual([
    expect.stringMatching(/^wrong: Argument of type 'Quantity<"temperature">'|^wrong: Argument of type 'Temperature'/),
  ]);
});

/** what the compiler of the cells says of the cells of each chapter, taken as one file a chapter */
function compileFindings(chapters: ReadonlyMap<string, string>): string[] {
  const ts = createRequire(import.meta.url)("@tslab/typescript-for-tslab") as typeof import("typescript");
  const texts = new Map([...chapters].map(([name, text]) => [join(folder, name), text]));
  const options = {
    target: ts.ScriptTarget.ES2022,
    lib: ["lib.es2022.d.ts"],
    module: ts.ModuleKind.ESNext,
    moduleResolution: ts.ModuleResolutionKind.Node10,
    baseUrl: root,
    paths: { dialbook: ["kernel-lib/dist/index.d.ts"] },
    types: [],
    noEmit: true,
    skipLibCheck: true,
  };
  const host = ts.createCompilerHost(options);
  const [getSource, exists] = [host.getSourceFile, host.fileExists];
  host.fileExists = (file) => texts.has(file) || exists(file);
  host.getSourceFile = (file, version, ...rest) => {
    const text = texts.get(file);
    return text === undefined ? getSource(file, version, ...rest) : ts.createSourceFile(file, text, version);
  };
  return ts
    .getPreEmitDiagnostics(ts.createProgram([...texts.keys()], options, host))
    .map(
      ({ file, messageText }) =>
        `${file?.fileName.replace(/.*\/|\.ts$/g, "")}: ${ts.flattenDiagnosticMessageText(messageText, "\n")}`,
    );
}

function sourceOf(name: string): string {
  return code(read(name))
    .map(({ source }) => source)
    .join("\n;\n");
}

describe.each(files)("%s", (name) => {
  const notebook = read(name);

  it("opens with question, answer, data and what is not covered", () => {
    const opening = notebook.cells[0]?.source ?? "";
    for (const part of ["**The question.**", "**The answer.**", "**The data.**", "**Not covered.**"]) {
      expect(opening).toContain(part);
    }
  });

  it("keeps cells that a reader takes in at one look", () => {
    expect(notebook.cells.filter((c) => isCode(c) && c.source.split("\n").length > 18).map((c) => c.source)).toEqual(
      [],
    );
    expect(notebook.cells.filter((c) => !isCode(c) && words(c.source) > 130).map((c) => words(c.source))).toEqual([]);
  });

  it("imports from the package alone and reads only its own data", () => {
    const source = code(notebook)
      .map((c) => c.source)
      .join("\n");
    expect([...source.matchAll(/from "([^"]+)"/g)].map((found) => found[1])).toEqual(["dialbook"]);
    expect([...source.matchAll(/"(\.\.?\/[^"]+)"/g)].filter((found) => !found[1]!.startsWith("../data/"))).toEqual([]);
    expect(source).not.toMatch(/console\.log|\bany\b/);
  });

  it("ends on versions and checksums", () => {
    expect(code(notebook).at(-1)?.source).toMatch(/\nversions\(|^versions\(/);
  });

  it("is kept with its outputs, run from top to bottom, in less than 1 MB", () => {
    expect(code(notebook).map((c) => c.execution_count)).toEqual(code(notebook).map((_, i) => i + 1));
    expect(statSync(join(folder, name)).size).toBeLessThan(1_000_000);
  });
});

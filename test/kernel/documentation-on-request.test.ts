import { readdirSync, readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import ts from "@tslab/typescript-for-tslab";
import { expect, it } from "vitest";
import { withoutDocumentation } from "../../kernel-lib/src/kernel/documentation-on-request.js";
import { built, project } from "./workplace.js";

/** every word and sign of a declaration file, without spaces and comments; a text with a template keeps its parts */
function tokens(text: string): readonly string[] {
  const file = ts.createSourceFile("a.d.ts", text, ts.ScriptTarget.ES2022, false);
  const found: string[] = [];
  const visit = (node: ts.Node): void => {
    let leaf = true;
    ts.forEachChild(node, (child) => {
      leaf = false;
      visit(child);
    });
    found.push(leaf ? `${node.kind} ${node.getText(file)}` : `${node.kind}`);
  };
  visit(file);
  return found;
}

function declarations(folder: string, name: RegExp): readonly string[] {
  return readdirSync(folder, { recursive: true, encoding: "utf8" })
    .filter((file) => name.test(file))
    .map((file) => readFileSync(join(folder, file), "utf8"));
}

it("leaves what the compiler reads as declarations as it is", () => {
  built();
  const compiler = dirname(createRequire(import.meta.url).resolve("@tslab/typescript-for-tslab"));
  const texts = [
    ...declarations(compiler, /^lib\..*\.d\.ts$/).filter((text) => text.length < 300_000),
    ...declarations(join(project, "node_modules", "@types", "node"), /^[^/]*\.d\.ts$/),
    readFileSync(join(project, "kernel-lib", "dist", "index.d.ts"), "utf8"),
  ];
  expect(texts.length).toBeGreaterThan(100);
  for (const text of texts) {
    const bare = withoutDocumentation(text);
    expect(tokens(bare).join("\n") === tokens(text).join("\n"), text.slice(0, 200)).toBe(true);
    expect(bare.replace(/"[^"\n]*"|\/\/.*/g, "")).not.toContain("/**");
  }
});

it("takes nothing for documentation inside of a text or another comment", () => {
  const text = `type A = "/** a */"; // a /** b\ntype B = \`/** a\`; /* /** */ type C = 1; /**/ type D = 2;`;
  expect(withoutDocumentation(text)).toBe(text);
  expect(withoutDocumentation("let a:/** one\n * two */number; /** three */")).toBe("let a: number;  ");
});

import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { CellSession } from "../../kernel-lib/src/kernel/cell-session.js";
import { complete, inspectAt } from "../../kernel-lib/src/kernel/source-help.js";
import { built, project } from "./workplace.js";

let session: CellSession;
beforeAll(async () => {
  built();
  session = new CellSession(`${project}/notebooks`);
  const importing = 'import { budget, degC, form, kelvin, mm } from "dialbook";';
  expect(await session.run(`${importing}\n/** How high it stands. */\nconst height = mm(3);`, 1)).toMatchObject({
    ok: true,
  });
});
afterAll(() => session.executor.close());

interface Typed {
  readonly text: string;
  readonly type: string;
  readonly signature?: string;
  readonly documentation?: string;
}

function typed(code: string): readonly Typed[] {
  const { metadata } = complete(session.executor, { code, cursor_pos: code.length });
  return (metadata as { _jupyter_types_experimental: readonly Typed[] })._jupyter_types_experimental;
}

describe("completion", () => {
  it("tells the kind, the signature and the first words of the documentation", () => {
    const code = "mm(1).pl";
    expect(complete(session.executor, { code, cursor_pos: 8 })).toMatchObject({
      status: "ok",
      matches: ["plus"],
      cursor_start: 6,
      cursor_end: 8,
    });
    expect(typed(code)).toEqual([
      {
        text: "plus",
        type: "method",
        signature: 'Quantity<"length">.plus(other: Quantity<"length">): Quantity<"length">',
        documentation: "Sum. A temperature takes a temperature difference.",
        start: 6,
        end: 8,
      },
    ]);
  });

  it("knows names of earlier cells, in the middle of an open bracket too", () => {
    expect(typed("form.flatness(hei")).toMatchObject([{ text: "height", type: "variable" }]);
    expect(typed("[height.isL")).toMatchObject([{ text: "isLess", type: "method" }]);
    expect(typed("form.")).toSatisfy((all: readonly Typed[]) =>
      all.some(({ text, type }) => text === "Flatness" && type === "class"),
    );
  });

  it("has nothing to say inside a text", () => {
    expect(typed('"form.')).toEqual([]);
  });
});

describe("hover", () => {
  const hover = (code: string, at: number) =>
    inspectAt(session.executor, { code, cursor_pos: at }) as { found: boolean; data: { [mime: string]: string } };

  it("gives signature, words and example as Markdown and as text", () => {
    const { found, data } = hover("degC(20).minus(kelvin(2))", 11);
    expect(found).toBe(true);
    const words = "Difference. Two temperatures give a temperature difference.";
    const example = 'degC(22).minus(degC(20)).in("K") // => 2';
    const [first, ...rest] = String(data["text/markdown"]).split("\n\n");
    expect(first).toMatch(/^```typescript\nQuantity<"temperature">\.minus<.*>\(other: .*\n```$/);
    expect(rest).toEqual([words, `\`\`\`typescript\n${example}\n\`\`\``]);
    const plain = String(data["text/plain"]).split("\n\n");
    expect(plain).toEqual([first?.split("\n")[1], words, `Example:\n${example}`]);
  });

  it("lists parameters, refusals and source, and names no file of this machine", () => {
    const { data } = hover("budget", 3);
    expect(data["text/markdown"]).toContain("\n- **source** JCGM 100");
    expect(data["text/markdown"]).not.toMatch(/import\(|node_modules|\/dist/);
  });

  it("says that nothing is known of a blank", () => {
    expect(hover("   ", 1)).toEqual({ status: "ok", found: false, data: {}, metadata: {} });
  });
});

import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { join } from "node:path";
import { afterEach, describe, expect, it, vi } from "vitest";
import { form } from "../../kernel-lib/src/index.js";
import { picturesCommand } from "../../kernel-lib/src/kernel/commands/pictures.js";
import type { Output } from "../../kernel-lib/src/kernel/notebook.js";
import { writeNotebook } from "../../kernel-lib/src/kernel/notebook-file.js";
import { picturesOf } from "../../kernel-lib/src/kernel/pictures.js";
import { clubTable } from "../figure/club-table.js";
import { chapter, code, mapFigure, shown, surfaceFigure, text } from "./report-chapter-sample.js";
import { scratch } from "./workplace.js";

const flat = form.flatness(clubTable());
const notebook = chapter([
  text("# x"),
  code("a", [shown(surfaceFigure)]),
  code("b", [shown(flat), shown(mapFigure)]),
]).notebook;

/** a still picture with something in it that would run, as an output that claims to be ours */
function forged(svg: string): Output {
  const packed = Buffer.from(svg).toString("base64");
  const html = `<figure data-dialbook-figure="a" data-spec='{}'><img alt="a" src="data:image/svg+xml;base64,${packed}"></figure>`;
  return { output_type: "display_data", data: { "text/html": html }, metadata: { dialbook: true } };
}

describe("the figures of a notebook", () => {
  it("are its still pictures, named by place and title", () => {
    const { pictures, refused } = picturesOf(notebook);
    expect(refused).toEqual([]);
    expect(pictures.map(({ name }) => name)).toEqual([
      "01-club-mill-table-before",
      "02-club-mill-table-before",
      "03-club-mill-table-before",
    ]);
    expect([pictures[0]?.svg, pictures[2]?.svg]).toEqual([surfaceFigure.still, mapFigure.still]);
  });

  it("are named, not handed on, where they are not as we draw them", () => {
    const bad = [
      '<svg onload="x"></svg>',
      "<svg ><script>1</script></svg>",
      '<svg ><image href="https://elsewhere.example/x"/></svg>',
      "<html><body></body></html>",
    ].map(forged);
    expect(picturesOf({ ...notebook, cells: [code("a", bad)] })).toEqual({
      pictures: [],
      refused: ["01-figure", "02-figure", "03-figure", "04-figure"],
    });
  });
});

describe("dialbook pictures", () => {
  const folder = scratch();
  mkdirSync(join(folder, "notebooks"));
  afterEach(() => vi.restoreAllMocks());

  async function run(...args: string[]) {
    const texts = { out: "", err: "" };
    vi.spyOn(process, "cwd").mockReturnValue(folder);
    vi.spyOn(process.stdout, "write").mockImplementation((said) => (texts.out += said) !== "");
    vi.spyOn(process.stderr, "write").mockImplementation((said) => (texts.err += said) !== "");
    const code = await picturesCommand.run(args);
    return { code, ...texts };
  }

  it("saves each as SVG, whole, and says where", async () => {
    writeNotebook(join(folder, "notebooks", "07-größe.ipynb"), notebook);
    const { code, out, err } = await run("7");
    expect([code, err]).toEqual([0, ""]);
    const files = ["01-club-mill-table-before.svg", "02-club-mill-table-before.svg", "03-club-mill-table-before.svg"];
    expect(out).toBe(files.map((file) => `saved build/pictures/07-größe/${file}\n`).join(""));
    const place = join(folder, "build", "pictures", "07-größe");
    expect(readdirSync(place)).toEqual(files);
    expect(readFileSync(join(place, files[2]!), "utf8")).toBe(`${mapFigure.still}\n`);
  });

  it("takes the last run before what the notebook keeps, and a folder of one's own", async () => {
    writeNotebook(join(folder, "build", "notebooks", "07-größe.ipynb"), {
      ...notebook,
      cells: [code("a", [shown(mapFigure)])],
    });
    expect((await run("7", "--to", join(folder, "my pictures"))).code).toBe(0);
    expect(readdirSync(join(folder, "my pictures"))).toEqual(["01-club-mill-table-before.svg"]);
    rmSync(join(folder, "build"), { recursive: true });
  });

  it("says what was left out, and where there is nothing to save", async () => {
    writeNotebook(join(folder, "notebooks", "08-bad.ipynb"), {
      ...notebook,
      cells: [code("a", [forged("<svg ><script>1</script></svg>"), shown(mapFigure)])],
    });
    const { code: exit, err } = await run("8");
    expect([exit, err]).toEqual([
      1,
      "08-bad: figure 01-figure is not as dialbook draws it and was not saved; run the notebook again\n",
    ]);
    expect(readdirSync(join(folder, "build", "pictures", "08-bad"))).toEqual(["02-club-mill-table-before.svg"]);
    writeNotebook(join(folder, "notebooks", "09-none.ipynb"), { ...notebook, cells: [] });
    await expect(run("9")).rejects.toThrow(
      /^pictures: 09-none shows no figure of ours; run it first: dialbook run 09-none$/,
    );
    await expect(run()).rejects.toThrow(/^pictures: name a notebook; see dialbook pictures --help$/);
    await expect(run("8", "9", "--to", "x")).rejects.toThrow(
      /^pictures: --to is for one notebook; name one, or leave --to out$/,
    );
    expect(existsSync(join(folder, "x"))).toBe(false);
  });
});

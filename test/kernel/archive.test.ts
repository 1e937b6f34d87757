import { execFileSync } from "node:child_process";
import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join, relative } from "node:path";
import { gunzipSync, gzipSync } from "node:zlib";
import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { gather, readArchive, writeFolder } from "../../kernel-lib/src/kernel/archive.js";
import { contentsOf, readContents, sumOf } from "../../kernel-lib/src/kernel/archive-contents.js";
import { type ArchivedFile, archiveOf, filesOf } from "../../kernel-lib/src/kernel/archive-file.js";
import { refusal } from "../refusal.js";
import { type HandEntry, tarByHand } from "./tar-by-hand.js";
import { notebook, scratch } from "./workplace.js";

const file = (path: string, text: string): ArchivedFile => ({ path, bytes: Buffer.from(text, "utf8") });
const texts = (files: readonly ArchivedFile[]) => files.map(({ path, bytes }) => [path, Buffer.from(bytes).toString()]);
const long = `${"a folder with a long name/".repeat(6)}größe µm.csv`;
const some = [
  file("data/größe 1.csv", "x/mm,z/um\n1,2\n"),
  file(long, "deep"),
  file("notebooks/a.ipynb", "{}"),
  file("b", ""),
];
const byPath = (a: readonly unknown[], b: readonly unknown[]) => (String(a[0]) < String(b[0]) ? -1 : 1);

describe("an archive", () => {
  it("gives back every file, with spaces, long paths and letters beyond ASCII", () => {
    expect(texts(filesOf(archiveOf("täble one", some), "a.tgz")).sort(byPath)).toEqual(texts(some).sort(byPath));
  });

  it("gives back any bytes", () => {
    const bytes = fc.uint8Array({ maxLength: 3000 });
    fc.assert(
      fc.property(bytes, (content) => {
        const [read] = filesOf(archiveOf("a", [{ path: "data.bin", bytes: content }]), "a.tgz");
        return Buffer.from(read!.bytes).equals(Buffer.from(content));
      }),
      { seed: 11, numRuns: 20 },
    );
  });

  it("is the same bytes for the same files in any order", () => {
    const [one, other] = [archiveOf("a", some), archiveOf("a", [...some].reverse())];
    expect(Buffer.from(one).equals(Buffer.from(other))).toBe(true);
  });

  it("is read by the system's tar", () => {
    const folder = scratch();
    writeFileSync(join(folder, "a.tgz"), archiveOf("a", some));
    execFileSync("tar", ["xzf", "a.tgz"], { cwd: folder });
    for (const { path, bytes } of some)
      expect(readFileSync(join(folder, "a", path)).equals(Buffer.from(bytes))).toBe(true);
  });
});

describe("an archive of somebody with bad intent", () => {
  const end = "nothing was written, do not use it";
  const notMade = "it was not made by dialbook pack";
  const cases: [string, HandEntry[], string, string][] = [
    [
      "climbs",
      [{ path: "a/../../x" }],
      "archive-unsafe",
      `bad.tgz: the path "a/../../x" in it climbs out of the folder; ${end}`,
    ],
    [
      "climbs at once",
      [{ path: "../x" }],
      "archive-unsafe",
      `bad.tgz: the path "../x" in it climbs out of the folder; ${end}`,
    ],
    [
      "is absolute",
      [{ path: "/etc/x" }],
      "archive-unsafe",
      `bad.tgz: the path "/etc/x" in it is not below the folder; ${end}`,
    ],
    [
      "names a drive",
      [{ path: "C:/x" }],
      "archive-unsafe",
      `bad.tgz: the path "C:/x" in it is not below the folder; ${end}`,
    ],
    [
      "climbs on Windows",
      [{ path: "a/..\\..\\x" }],
      "archive-unsafe",
      `bad.tgz: the path "a/..\\\\..\\\\x" in it holds a backward stroke; ${end}`,
    ],
    [
      "names a device",
      [{ path: "a/NUL.csv" }],
      "archive-unsafe",
      `bad.tgz: the path "a/NUL.csv" in it is a name that not every system can keep; ${end}`,
    ],
    [
      "names a stream",
      [{ path: "a/x.csv:y" }],
      "archive-unsafe",
      `bad.tgz: the path "a/x.csv:y" in it holds a sign that no name may hold; ${end}`,
    ],
    [
      "holds a link",
      [{ path: "a/x", type: "2", link: "/etc" }],
      "archive-unsafe",
      `bad.tgz: "a/x" is a link or a device, and an archive holds files only; do not use it`,
    ],
    [
      "holds a hard link",
      [{ path: "a/x", type: "1", link: "a/y" }],
      "archive-unsafe",
      `bad.tgz: "a/x" is a link or a device, and an archive holds files only; do not use it`,
    ],
    [
      "holds a device",
      [{ path: "a/x", type: "3" }],
      "archive-unsafe",
      `bad.tgz: "a/x" is a link or a device, and an archive holds files only; do not use it`,
    ],
    [
      "holds a file twice",
      [{ path: "a/x" }, { path: "a/X" }],
      "archive-unsafe",
      `bad.tgz: holds "X" twice; do not use it, ask for another`,
    ],
    [
      "holds two folders",
      [{ path: "a/x" }, { path: "b/y" }],
      "archive-unsafe",
      `bad.tgz: holds more than one folder; ${notMade}`,
    ],
    ["holds no folder", [{ path: "x" }], "archive-unsafe", `bad.tgz: "x" is in no folder; ${notMade}`],
  ];
  it.each(cases)("%s: is refused whole", (_name, entries, code, message) => {
    expect(refusal(() => filesOf(tarByHand([{ path: "a/", type: "5" }, ...entries]), "bad.tgz"))).toEqual({
      code,
      message,
    });
  });

  it("unpacks to more than it may: is refused before it is unpacked", () => {
    const bomb = gzipSync(Buffer.alloc(257e6), { level: 1 });
    expect(bomb.length).toBeLessThan(3e6);
    expect(refusal(() => filesOf(bomb, "bad.tgz"))).toEqual({
      code: "archive-large",
      message: "bad.tgz: unpacks to more than 256 MB, which no archive of ours does; do not use it",
    });
  });

  it("holds more files than it may: is refused whole", () => {
    const entries = Array.from({ length: 5001 }, (_, i) => ({ path: `a/${i}` }));
    expect(refusal(() => filesOf(tarByHand(entries), "bad.tgz"))).toEqual({
      code: "archive-large",
      message: "bad.tgz: holds more than 5000 files, which no archive of ours does; do not use it",
    });
  });

  it("is damaged, cut off or something else: one sentence, whatever the bytes", () => {
    const good = archiveOf("a", some);
    const tar = gunzipSync(good);
    const broken = Buffer.from(tar);
    broken.write("9", 150);
    const wrongs = [
      Buffer.alloc(0),
      Buffer.from("no archive"),
      good.subarray(0, 200),
      gzipSync("words"),
      gzipSync(broken),
      gzipSync(tar.subarray(0, 700)),
    ];
    const message = "bad.tgz: is no archive of dialbook, or is damaged; ask for it again";
    for (const bytes of wrongs)
      expect(refusal(() => filesOf(bytes, "bad.tgz"))).toEqual({ code: "archive-corrupt", message });
  });

  it("with a byte changed anywhere is refused or gives the very same files", () => {
    const files = [file("data/a.csv", "x/mm,z/um\n1,2\n"), file("n.ipynb", "{}")];
    const good = archiveOf("a", [contentsOf(files, { notebooks: ["n.ipynb"], versions: {} }), ...files]);
    const tar = gunzipSync(good);
    const changed = fc.tuple(fc.nat(tar.length - 1), fc.integer({ min: 1, max: 255 }));
    let refused = 0;
    fc.assert(
      fc.property(changed, ([at, by]) => {
        const bytes = Buffer.from(tar);
        bytes[at] = bytes[at]! ^ by;
        try {
          const read = filesOf(gzipSync(bytes, { level: 1 }), "a.tgz");
          readContents(read, "a.tgz");
          expect(texts(read.filter(({ path }) => path !== "contents.json"))).toEqual(texts(files));
        } catch (error) {
          if (!String(error).startsWith("MeasurementError")) throw error;
          refused++;
        }
      }),
      { seed: 12, numRuns: 300 },
    );
    expect(refused).toBeGreaterThan(50);
  });
});

describe("the list of contents", () => {
  const files = [file("data/a.csv", "1"), file("n.ipynb", "{}")];
  const list = contentsOf(files, { notebooks: ["n.ipynb"], versions: { Node: "20.20.2" } });
  const listed = (text: string) => [file("contents.json", text), ...files];

  it("says what is in the archive and what made it", () => {
    expect(readContents([list, ...files], "a.tgz")).toEqual({
      notebooks: ["n.ipynb"],
      versions: { Node: "20.20.2" },
      files: files.map(({ path, bytes }) => ({ path, sha256: sumOf(bytes) })),
    });
  });

  it.each([
    ["none", files, "archive-corrupt", "a.tgz: has no list of contents that can be read; make it with dialbook pack"],
    [
      "no JSON",
      listed("{"),
      "archive-corrupt",
      "a.tgz: has no list of contents that can be read; make it with dialbook pack",
    ],
    [
      "a later form",
      listed('{"form":"dialbook archive 2"}'),
      "archive-form",
      'a.tgz: has the form "dialbook archive 2"; this version of dialbook reads dialbook archive 1',
    ],
    [
      "half a list",
      listed('{"form":"dialbook archive 1"}'),
      "archive-corrupt",
      "a.tgz: its list of contents is not whole",
    ],
    [
      "a changed file",
      [list, files[0]!, file("n.ipynb", "{ }")],
      "archive-corrupt",
      "a.tgz: n.ipynb is not as it was packed; unpack the archive again, or ask for another",
    ],
    ["a missing file", [list, files[1]!], "archive-corrupt", "a.tgz: data/a.csv is missing in it; ask for it again"],
    [
      "a file too many",
      [list, ...files, file("x", "")],
      "archive-corrupt",
      "a.tgz: x is not in its list of contents; ask for it again",
    ],
  ])("with %s is refused", (_name, wrong, code, message) => {
    expect(refusal(() => readContents(wrong, "a.tgz"))).toEqual({ code, message });
  });
});

describe("what is gathered for an archive", () => {
  const project = scratch();
  for (const folder of ["notebooks/pictures", "data"]) mkdirSync(join(project, folder), { recursive: true });
  const put = (path: string, text: string) => writeFileSync(join(project, path), text);
  put("data/mine.csv", "1");
  put("data/other.csv", "2");
  put("notebooks/pictures/p.svg", "<svg/>");
  put(
    "data/checksums.csv",
    `file,closed,sha256\nmine.csv,2026-10-17,${sumOf("1")}\nother.csv,2026-10-17,${sumOf("2")}\n`,
  );
  const at = notebook(join(project, "notebooks", "a.ipynb"), [
    "# Question\n\n![p](pictures/p.svg)",
    'readSurvey("../data/mine.csv"); "no.such"',
  ]);

  it("is the notebook, the files it names, and of the list of closed sheets only their lines", () => {
    const files = texts(gather(project, [at], []));
    expect(files.map(([path]) => path)).toEqual([
      "notebooks/a.ipynb",
      "notebooks/pictures/p.svg",
      "data/mine.csv",
      "data/checksums.csv",
    ]);
    expect(files[3]![1]).toBe(`file,closed,sha256\nmine.csv,2026-10-17,${sumOf("1")}\n`);
  });

  it("is told in one sentence where a file lies outside", () => {
    const outside = join(scratch(), "x.csv");
    writeFileSync(outside, "1");
    const bad = notebook(join(project, "notebooks", "b.ipynb"), ["# Question", `readSurvey("${outside}")`]);
    expect(refusal(() => gather(project, [bad], []))).toEqual({
      code: "outside",
      message: `pack: cell 2 names ${outside}, which lies outside the folder ${project}; copy it into data/ and name it from there`,
    });
    expect(refusal(() => gather(project, [at], [outside])).message).toBe(
      `pack: ${outside} lies outside the folder ${project}; put it there, or run the command where it lies`,
    );
  });
});

describe("a folder to unpack into", () => {
  it("is written whole, read back, and refused where something is there", () => {
    const folder = join(scratch(), "neu hier");
    const files = [file("data/a.csv", "1"), file("n.ipynb", "{}")];
    const all = [contentsOf(files, { notebooks: ["n.ipynb"], versions: {} }), ...files];
    writeFolder(folder, all);
    expect(texts(readArchive(folder).files)).toEqual(texts(all));
    expect(refusal(() => writeFolder(folder, all))).toEqual({
      code: "folder-taken",
      message: `${relative(process.cwd(), folder)}: is there already; name another folder, or move it away`,
    });
  });

  it("is not there at all where one file could not be written", () => {
    const base = scratch();
    const clash = [file("a", "1"), file("a/b", "2")];
    expect(refusal(() => writeFolder(join(base, "x"), clash)).code).toBe("not-written");
    expect(readdirSync(base)).toEqual([]);
    expect(existsSync(join(base, "x"))).toBe(false);
  });

  it("names an archive that is not there", () => {
    expect(refusal(() => readArchive("/no/such.tgz"))).toEqual({
      code: "no-archive",
      message: "/no/such.tgz: there is no such archive; give the path of a .tgz file",
    });
  });
});

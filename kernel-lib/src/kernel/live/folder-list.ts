import { closeSync, existsSync, openSync, readdirSync, readFileSync, readSync, statSync } from "node:fs";
import { join } from "node:path";
import { parseChecksums } from "../../survey/checksums.js";
import { checksumFile } from "../../survey/files.js";
import { readNotebook } from "../notebook-file.js";
import { titleOf } from "../notebook-title.js";
import { Kept } from "./kept.js";
import type { Listed, ListedFile } from "./listed-file.js";

/** The notebooks and the data of a project, by name; what can't be read is listed with its reason. */
export function folderList(project: string): Listed {
  const data = join(project, "data");
  const list = join(data, checksumFile);
  const closed = new Map(
    existsSync(list) ? parseChecksums(readFileSync(list, "utf8")).map((entry) => [entry.file, entry.closed]) : [],
  );
  return {
    notebooks: filesOf(project, "notebooks", (file, name) =>
      name.endsWith(".ipynb") ? { kind: "notebook", ...noticed(file) } : { kind: "other" },
    ),
    data: filesOf(project, "data", (file, name) => dataFile(file, name, closed.get(name))),
    removed: new Kept(project).removed,
  };
}

type Told = Omit<ListedFile, "name" | "path" | "size" | "modified">;

function filesOf(project: string, folder: string, tell: (file: string, name: string) => Told): readonly ListedFile[] {
  const there = join(project, folder);
  if (!existsSync(there)) return [];
  return readdirSync(there, { withFileTypes: true })
    .filter((entry) => entry.isFile() && !entry.name.startsWith("."))
    .map(({ name }) => name)
    .sort((a, b) => a.localeCompare(b, "en", { numeric: true }))
    .map((name) => {
      const file = join(there, name);
      const { size, mtime } = statSync(file);
      return { name, path: `${folder}/${name}`, size, modified: mtime.toISOString(), ...tell(file, name) };
    });
}

function noticed(file: string): Partial<ListedFile> {
  try {
    const notebook = readNotebook(file);
    const title = titleOf(notebook);
    const opening = notebook.cells.find((cell) => cell.cell_type === "markdown")?.source ?? "";
    const question = /^\*\*The question\.\*\*\s+(.+)$/m.exec(opening)?.[1]?.trim();
    return { ...(title !== undefined && { title }), ...(question !== undefined && { question }) };
  } catch (error) {
    return { problem: error instanceof Error ? error.message : String(error) };
  }
}

function dataFile(file: string, name: string, closed: string | undefined): Told {
  if (closed !== undefined) return { kind: "closed sheet", closed, ...titled(beginning(file)) };
  const head = /\.(?:csv|tsv|txt)$/i.test(name) && name !== checksumFile ? beginning(file) : "";
  // a sheet of ours begins with lines that say how it was measured
  return /^\uFEFF?# [^:\n]+:/.test(head) ? { kind: "open sheet", ...titled(head) } : { kind: "other" };
}

function titled(head: string): { readonly title?: string } {
  const title = /^# title:[^\S\n]*(\S.*)$/m.exec(head)?.[1]?.trim();
  return title === undefined ? {} : { title };
}

/** the first 4 kB, as the list is asked for often */
function beginning(file: string): string {
  const bytes = Buffer.alloc(4096);
  const open = openSync(file, "r");
  try {
    return bytes.toString("utf8", 0, readSync(open, bytes, 0, bytes.length, 0));
  } finally {
    closeSync(open);
  }
}

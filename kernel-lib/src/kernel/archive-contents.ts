import { createHash } from "node:crypto";
import { MeasurementError } from "../measurement-error.js";
import type { ArchivedFile } from "./archive-file.js";

/** What stands in an archive: which notebooks, made with what, and the checksum of every file. */
export interface Contents {
  readonly notebooks: readonly string[];
  /** name of a program or package, its version */
  readonly versions: { readonly [name: string]: string };
  readonly files: readonly { readonly path: string; readonly sha256: string }[];
}

export const contentsFile = "contents.json";
const form = "dialbook archive 1";

/** The list of contents of these files, itself a file of the archive. */
export function contentsOf(files: readonly ArchivedFile[], about: Omit<Contents, "files">): ArchivedFile {
  const sums = files.map(({ path, bytes }) => ({ path, sha256: sumOf(bytes) }));
  const text = JSON.stringify({ form, ...about, files: sums }, null, 2);
  return { path: contentsFile, bytes: Buffer.from(`${text}\n`, "utf8") };
}

/**
 * The contents of an archive, after every file in it was held against its checksum.
 *
 * @throws MeasurementError `archive-corrupt`, `archive-form`
 */
export function readContents(files: readonly ArchivedFile[], name: string): Contents {
  const list = files.find(({ path }) => path === contentsFile);
  const contents = list && parse(list.bytes);
  if (contents === undefined) {
    return refuse("corrupt", `${name}: has no list of contents that can be read; make it with dialbook pack`);
  }
  if (contents.form !== form) {
    const { form: other = "none" } = contents;
    return refuse("form", `${name}: has the form ${JSON.stringify(other)}; this version of dialbook reads ${form}`);
  }
  const { notebooks, versions, files: listed } = contents;
  if (!notebooks || !versions || !listed) return refuse("corrupt", `${name}: its list of contents is not whole`);
  const sums = new Map(listed.map(({ path, sha256 }) => [path, sha256]));
  for (const { path, bytes } of files) {
    if (path === contentsFile) continue;
    const sum = sums.get(path);
    if (sum === undefined) refuse("corrupt", `${name}: ${path} is not in its list of contents; ask for it again`);
    if (sum !== sumOf(bytes))
      refuse("corrupt", `${name}: ${path} is not as it was packed; unpack the archive again, or ask for another`);
    sums.delete(path);
  }
  const [missing] = [...sums.keys(), ...notebooks.filter((path) => !files.some((file) => file.path === path))];
  if (missing !== undefined) refuse("corrupt", `${name}: ${missing} is missing in it; ask for it again`);
  return { notebooks, versions, files: listed };
}

export function sumOf(bytes: Uint8Array | string): string {
  return createHash("sha256").update(bytes).digest("hex");
}

type Read = { readonly form?: unknown } & Partial<Contents>;

/** undefined where the text is not what it should be; each part only where it has the right shape */
function parse(bytes: Uint8Array): Read | undefined {
  let value: unknown;
  try {
    value = JSON.parse(Buffer.from(bytes).toString("utf8"));
  } catch {
    return undefined;
  }
  if (typeof value !== "object" || value === null || Array.isArray(value)) return undefined;
  const { form: found, notebooks, versions, files } = value as { readonly [key: string]: unknown };
  return {
    form: found,
    ...(isTexts(notebooks) && { notebooks }),
    ...(isVersions(versions) && { versions }),
    ...(isFiles(files) && { files }),
  };
}

function isTexts(value: unknown): value is readonly string[] {
  return Array.isArray(value) && value.length > 0 && value.every((text) => typeof text === "string");
}

function isVersions(value: unknown): value is Contents["versions"] {
  return typeof value === "object" && value !== null && Object.values(value).every((v) => typeof v === "string");
}

function isFiles(value: unknown): value is Contents["files"] {
  return Array.isArray(value) && value.every((file) => isTexts([file?.path, file?.sha256]));
}

function refuse(what: "corrupt" | "form", sentence: string): never {
  throw new MeasurementError(`archive-${what}`, sentence);
}

import { existsSync, readFileSync, rmSync } from "node:fs";
import { homedir } from "node:os";
import { join } from "node:path";
import { MeasurementError } from "../measurement-error.js";
import { foldersBefore, kernelsFolder } from "./kernel-folders.js";
import { writeWhole } from "./whole-file.js";

/** What Jupyter needs to know to start the kernel: absolute paths, for a desktop front end has another PATH. */
export function kernelspec(node: string, bin: string): { readonly [key: string]: unknown } {
  return {
    argv: [node, bin, "kernel", "serve", "{connection_file}"],
    display_name: "TypeScript (Dialbook)",
    language: "typescript",
    interrupt_mode: "signal",
    metadata: { debugger: false },
  };
}

/** Where a kernelspec was written, and what hides it. */
export interface AddedKernel {
  readonly folder: string;
  /** folder of a kernel of the same name that Jupyter finds first */
  readonly hiddenBy?: string;
}

/**
 * Writes the kernelspec for this user.
 *
 * @throws MeasurementError `kernel-name`, `other-kernel`, `not-written`
 */
export function addKernelspec(name: string, bin: string): AddedKernel {
  needName(name);
  const folder = join(kernelsFolder(here()), name);
  needOurs(folder);
  writeWhole(specFile(folder), `${JSON.stringify(kernelspec(process.execPath, bin), null, 2)}\n`);
  const hiddenBy = foldersBefore(here())
    .map((kernels) => join(kernels, name))
    .find((other) => other !== folder && existsSync(specFile(other)));
  return hiddenBy === undefined ? { folder } : { folder, hiddenBy };
}

/**
 * Removes it again, if it is ours.
 *
 * @returns the folder removed
 * @throws MeasurementError `kernel-name`, `no-kernel`, `other-kernel`
 */
export function removeKernelspec(name: string): string {
  needName(name);
  const folder = join(kernelsFolder(here()), name);
  if (!existsSync(specFile(folder))) {
    throw new MeasurementError(
      "no-kernel",
      `kernel: there is no kernel named "${name}" in ${folder}; jupyter kernelspec list says which there are`,
    );
  }
  needOurs(folder);
  rmSync(folder, { recursive: true });
  return folder;
}

function here() {
  return { platform: process.platform, home: homedir(), environment: process.env };
}

function specFile(folder: string): string {
  return join(folder, "kernel.json");
}

function needName(name: string): void {
  if (/^[a-z0-9._-]+$/.test(name) && !/^\.+$/.test(name)) return;
  throw new MeasurementError(
    "kernel-name",
    `kernel: "${name}" can't name a kernel; use a–z, 0–9, dot, dash, underscore`,
  );
}

/** a kernel that is not there yet, or that an earlier call wrote */
function needOurs(folder: string): void {
  const file = specFile(folder);
  if (!existsSync(file) || isOurs(readFileSync(file, "utf8"))) return;
  throw new MeasurementError(
    "other-kernel",
    `kernel: ${folder} belongs to another program and was left alone; choose another name with --name`,
  );
}

function isOurs(text: string): boolean {
  try {
    const { argv } = JSON.parse(text);
    return Array.isArray(argv) && argv[2] === "kernel" && argv[3] === "serve" && /\bdialbook\.js$/.test(argv[1]);
  } catch {
    return false;
  }
}

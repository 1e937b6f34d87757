import { existsSync, readFileSync, rmSync } from "node:fs";
import { homedir } from "node:os";
import { posix, win32 } from "node:path";
import { MeasurementError } from "../measurement-error.js";
import { writeWhole } from "./whole-file.js";

/** What decides where Jupyter looks for the kernels of one user. */
export interface UserPlace {
  readonly platform: NodeJS.Platform;
  readonly home: string;
  readonly environment: { readonly [name: string]: string | undefined };
}

/**
 * The folder in which Jupyter looks for the kernels of one user.
 *
 * @see Jupyter documentation, "Common directories and file locations", data files
 */
export function kernelsFolder({ platform, home, environment }: UserPlace): string {
  const { join } = platform === "win32" ? win32 : posix;
  return join(dataFolder(join, { platform, home, environment }), "kernels");
}

function dataFolder(join: typeof posix.join, { platform, home, environment }: UserPlace): string {
  if (environment.JUPYTER_DATA_DIR) return environment.JUPYTER_DATA_DIR;
  if (platform === "darwin") return join(home, "Library", "Jupyter");
  if (platform === "win32") return join(environment.APPDATA || join(home, "AppData", "Roaming"), "jupyter");
  return join(environment.XDG_DATA_HOME || join(home, ".local", "share"), "jupyter");
}

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

/** Writes the kernelspec for this user. @returns the folder written */
export function addKernelspec(name: string, bin: string): string {
  const folder = specFolder(name);
  const spec = kernelspec(process.execPath, bin);
  writeWhole(posix.join(folder, "kernel.json"), `${JSON.stringify(spec, null, 2)}\n`);
  return folder;
}

/** Removes it again, if it is ours. @returns the folder removed */
export function removeKernelspec(name: string): string {
  const folder = specFolder(name);
  const file = posix.join(folder, "kernel.json");
  if (!existsSync(file))
    throw new MeasurementError("no-kernel", `kernel: there is no kernel named "${name}" in ${folder}`);
  if (!readFileSync(file, "utf8").includes('"serve"')) {
    throw new MeasurementError("other-kernel", `kernel: ${folder} belongs to another program; it was left alone`);
  }
  rmSync(folder, { recursive: true });
  return folder;
}

function specFolder(name: string): string {
  if (!/^[a-z0-9._-]+$/.test(name) || /^\.+$/.test(name)) {
    throw new MeasurementError(
      "kernel-name",
      `kernel: "${name}" can't name a kernel; use a–z, 0–9, dot, dash, underscore`,
    );
  }
  const place = { platform: process.platform, home: homedir(), environment: process.env };
  const { join } = process.platform === "win32" ? win32 : posix;
  return join(kernelsFolder(place), name);
}

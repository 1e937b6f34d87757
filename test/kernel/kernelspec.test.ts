import { describe, expect, it } from "vitest";
import { addKernelspec, kernelsFolder, kernelspec, removeKernelspec } from "../../kernel-lib/src/kernel/kernelspec.js";
import { refusal } from "../refusal.js";

// Jupyter documentation, "Common directories and file locations", table of data directories
describe("the folder of a user's kernels", () => {
  it.each([
    ["linux", "/home/jo", {}, "/home/jo/.local/share/jupyter/kernels"],
    ["linux", "/home/jö ö", { XDG_DATA_HOME: "/data/jö ö" }, "/data/jö ö/jupyter/kernels"],
    ["linux", "/home/jo", { XDG_DATA_HOME: "/data", JUPYTER_DATA_DIR: "/j d" }, "/j d/kernels"],
    ["darwin", "/Users/jo", {}, "/Users/jo/Library/Jupyter/kernels"],
    ["darwin", "/Users/jo", { XDG_DATA_HOME: "/data" }, "/Users/jo/Library/Jupyter/kernels"],
    ["darwin", "/Users/jo", { JUPYTER_DATA_DIR: "/j" }, "/j/kernels"],
    [
      "win32",
      "C:\\Users\\jo b",
      { APPDATA: "C:\\Users\\jo b\\AppData\\Roaming" },
      "C:\\Users\\jo b\\AppData\\Roaming\\jupyter\\kernels",
    ],
    ["win32", "C:\\Users\\jo", {}, "C:\\Users\\jo\\AppData\\Roaming\\jupyter\\kernels"],
    ["win32", "C:\\Users\\jo", { JUPYTER_DATA_DIR: "D:\\jupyter" }, "D:\\jupyter\\kernels"],
  ] as const)("on %s for %s with %j is %s", (platform, home, environment, folder) => {
    expect(kernelsFolder({ platform, home, environment })).toBe(folder);
  });
});

it("starts by absolute paths, and is interrupted by a signal", () => {
  expect(kernelspec("/opt/node x/bin/node", "/home/jö/dialbook.js")).toEqual({
    argv: ["/opt/node x/bin/node", "/home/jö/dialbook.js", "kernel", "serve", "{connection_file}"],
    display_name: "TypeScript (Dialbook)",
    language: "typescript",
    interrupt_mode: "signal",
    metadata: { debugger: false },
  });
});

it("refuses names that Jupyter can't use as a folder, before it touches the disk", () => {
  for (const name of ["Dial Book", "../x", "..", ""]) {
    const sentence = `kernel: "${name}" can't name a kernel; use a–z, 0–9, dot, dash, underscore`;
    expect(refusal(() => addKernelspec(name, "/x"))).toEqual({ code: "kernel-name", message: sentence });
    expect(refusal(() => removeKernelspec(name))).toEqual({ code: "kernel-name", message: sentence });
  }
});

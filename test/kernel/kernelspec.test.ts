import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { foldersBefore, kernelsFolder } from "../../kernel-lib/src/kernel/kernel-folders.js";
import { addKernelspec, kernelspec, removeKernelspec } from "../../kernel-lib/src/kernel/kernelspec.js";
import { refusal } from "../refusal.js";

// Jupyter documentation, "Common directories and file locations", table of data directories; where it is silent
// (JUPYTER_PLATFORM_DIRS, Windows without APPDATA) the source of jupyter_core 5, paths.py, jupyter_data_dir
describe("the folder of a user's kernels", () => {
  const roaming = "C:\\Users\\jö b\\AppData\\Roaming";
  it.each([
    ["linux", "/home/jo", {}, "/home/jo/.local/share/jupyter/kernels"],
    ["linux", "/home/jö ö", { XDG_DATA_HOME: "/data/jö ö" }, "/data/jö ö/jupyter/kernels"],
    ["linux", "/home/jo", { XDG_DATA_HOME: "" }, "/home/jo/.local/share/jupyter/kernels"],
    ["linux", "/home/jo", { XDG_DATA_HOME: "/data", JUPYTER_DATA_DIR: "/j d/ü" }, "/j d/ü/kernels"],
    ["linux", "/home/jo", { JUPYTER_PLATFORM_DIRS: "1" }, "/home/jo/.local/share/jupyter/kernels"],
    ["linux", "/home/jo", { JUPYTER_PATH: "/elsewhere", APPDATA: "/x" }, "/home/jo/.local/share/jupyter/kernels"],
    ["darwin", "/Users/jo", {}, "/Users/jo/Library/Jupyter/kernels"],
    ["darwin", "/Users/jö b", { XDG_DATA_HOME: "/data" }, "/Users/jö b/Library/Jupyter/kernels"],
    ["darwin", "/Users/jo", { JUPYTER_DATA_DIR: "/j" }, "/j/kernels"],
    ["darwin", "/Users/jo", { JUPYTER_PLATFORM_DIRS: "1" }, "/Users/jo/Library/Application Support/Jupyter/kernels"],
    ["darwin", "/Users/jo", { JUPYTER_PLATFORM_DIRS: "False" }, "/Users/jo/Library/Jupyter/kernels"],
    ["win32", "C:\\Users\\jö b", { APPDATA: roaming }, `${roaming}\\jupyter\\kernels`],
    ["win32", "C:\\Users\\jo", {}, "C:\\Users\\jo\\.jupyter\\data\\kernels"],
    ["win32", "C:\\Users\\jo", { JUPYTER_CONFIG_DIR: "D:\\c" }, "D:\\c\\data\\kernels"],
    ["win32", "C:\\Users\\jo", { APPDATA: roaming, JUPYTER_DATA_DIR: "D:\\my jupyter" }, "D:\\my jupyter\\kernels"],
    [
      "win32",
      "C:\\Users\\jo",
      { APPDATA: roaming, LOCALAPPDATA: "C:\\Users\\jo\\AppData\\Local", JUPYTER_PLATFORM_DIRS: "yes" },
      "C:\\Users\\jo\\AppData\\Local\\Jupyter\\kernels",
    ],
  ] as const)("on %s for %s with %j is %s", (platform, home, environment, folder) => {
    expect(kernelsFolder({ platform, home, environment })).toBe(folder);
  });
});

// the same page: JUPYTER_PATH is searched first; JUPYTER_PREFER_ENV_PATH and the kinds of environment from jupyter_core 5,
// paths.py, jupyter_path and prefer_environment_over_user
describe("the folders that Jupyter looks into before", () => {
  it.each([
    ["linux", {}, []],
    ["linux", { JUPYTER_PATH: "/a b:/ü" }, ["/a b/kernels", "/ü/kernels"]],
    ["linux", { JUPYTER_PATH: ":/a:" }, ["/a/kernels"]],
    ["darwin", { JUPYTER_PATH: "/a", VIRTUAL_ENV: "/v" }, ["/a/kernels", "/v/share/jupyter/kernels"]],
    ["linux", { VIRTUAL_ENV: "/v", JUPYTER_PREFER_ENV_PATH: "0" }, []],
    ["linux", { CONDA_PREFIX: "/c", CONDA_DEFAULT_ENV: "base" }, []],
    [
      "linux",
      { CONDA_PREFIX: "/c", CONDA_DEFAULT_ENV: "base", JUPYTER_PREFER_ENV_PATH: "1" },
      ["/c/share/jupyter/kernels"],
    ],
    ["linux", { CONDA_PREFIX: "/c", CONDA_DEFAULT_ENV: "mill" }, ["/c/share/jupyter/kernels"]],
    [
      "win32",
      { JUPYTER_PATH: "D:\\a b;E:\\c", VIRTUAL_ENV: "C:\\v" },
      ["D:\\a b\\kernels", "E:\\c\\kernels", "C:\\v\\share\\jupyter\\kernels"],
    ],
  ] as const)("on %s with %j are %j", (platform, environment, folders) => {
    expect(foldersBefore({ platform, home: "/home/jo", environment })).toEqual(folders);
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
  for (const name of ["Dial Book", "../x", "..", "", "ü", "a/b", "a\\b"]) {
    const sentence = `kernel: "${name}" can't name a kernel; use a–z, 0–9, dot, dash, underscore`;
    expect(refusal(() => addKernelspec(name, "/x"))).toEqual({ code: "kernel-name", message: sentence });
    expect(refusal(() => removeKernelspec(name))).toEqual({ code: "kernel-name", message: sentence });
  }
});

describe("a kernelspec on the disk", () => {
  let place: string;
  let folder: string;
  const bin = "/home/jö b/kernel-lib/bin/dialbook.js";
  beforeEach(() => {
    place = mkdtempSync(join(tmpdir(), "jupyter größe "));
    folder = join(place, "data", "kernels", "mine");
    vi.stubEnv("JUPYTER_DATA_DIR", join(place, "data"));
    for (const name of ["JUPYTER_PATH", "VIRTUAL_ENV", "CONDA_PREFIX", "JUPYTER_PREFER_ENV_PATH"])
      vi.stubEnv(name, undefined);
  });
  afterEach(() => {
    vi.unstubAllEnvs();
    rmSync(place, { recursive: true, force: true });
  });

  it("is written, written again and taken away, and nothing else with it", () => {
    mkdirSync(join(place, "data", "kernels", "other"), { recursive: true });
    expect(addKernelspec("mine", bin)).toEqual({ folder });
    expect(addKernelspec("mine", bin)).toEqual({ folder });
    expect(JSON.parse(readFileSync(join(folder, "kernel.json"), "utf8"))).toEqual(
      JSON.parse(JSON.stringify(kernelspec(process.execPath, bin))),
    );
    expect(removeKernelspec("mine")).toBe(folder);
    expect(existsSync(folder)).toBe(false);
    expect(existsSync(join(place, "data", "kernels", "other"))).toBe(true);
    expect(refusal(() => removeKernelspec("mine"))).toEqual({
      code: "no-kernel",
      message: `kernel: there is no kernel named "mine" in ${folder}; jupyter kernelspec list says which there are`,
    });
  });

  it.each(['{"argv":["python","-m","x","serve"]}', "no JSON", "[]", '{"argv":5}', "null"])(
    "of another program is left alone: %s",
    (text) => {
      mkdirSync(folder, { recursive: true });
      writeFileSync(join(folder, "kernel.json"), text);
      const told = {
        code: "other-kernel",
        message: `kernel: ${folder} belongs to another program and was left alone; choose another name with --name`,
      };
      expect(refusal(() => addKernelspec("mine", bin))).toEqual(told);
      expect(refusal(() => removeKernelspec("mine"))).toEqual(told);
      expect(readFileSync(join(folder, "kernel.json"), "utf8")).toBe(text);
    },
  );

  it("says which kernel of the same name Jupyter finds first", () => {
    const before = join(place, "über all");
    mkdirSync(join(before, "kernels", "mine"), { recursive: true });
    vi.stubEnv("JUPYTER_PATH", before);
    expect(addKernelspec("mine", bin)).toEqual({ folder });
    writeFileSync(join(before, "kernels", "mine", "kernel.json"), "{}");
    expect(addKernelspec("mine", bin)).toEqual({ folder, hiddenBy: join(before, "kernels", "mine") });
    expect(addKernelspec("other", bin)).toEqual({ folder: join(place, "data", "kernels", "other") });
  });
});

import { describe, expect, it } from "vitest";
import { browserPlaces } from "../../kernel-lib/src/kernel/browser-place.js";
import { withoutScripts } from "../../kernel-lib/src/kernel/installed-browser.js";
import { pageOn } from "../../kernel-lib/src/kernel/printed-page.js";

// where the installers of these browsers put them by default: common practice, no source
describe("the places of a browser that prints", () => {
  it.each([
    ["linux", { PATH: "/usr/local/bin:/usr/bin" }, "/usr/bin/chromium"],
    ["linux", { PATH: "/opt/my tools" }, "/opt/my tools/google-chrome"],
    ["darwin", { PATH: "/usr/bin" }, "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome"],
    ["darwin", {}, "/Users/jö b/Applications/Chromium.app/Contents/MacOS/Chromium"],
    ["win32", { ProgramFiles: "C:\\Program Files" }, "C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe"],
    [
      "win32",
      { "ProgramFiles(x86)": "C:\\Program Files (x86)" },
      "C:\\Program Files (x86)\\Microsoft\\Edge\\Application\\msedge.exe",
    ],
  ] as const)("on %s with %j hold %s", (platform, environment, path) => {
    expect(browserPlaces({ platform, home: "/Users/jö b", environment })).toContain(path);
  });

  it("begin with the one that was named", () => {
    const environment = { CHROMIUM: "/my/browser", PATH: "/usr/bin" };
    for (const platform of ["linux", "darwin", "win32"] as const) {
      expect(browserPlaces({ platform, home: "/h", environment })[0]).toBe("/my/browser");
    }
  });
});

describe("a page made ready for the printer", () => {
  const page = "<html><head><style>@page{margin:15mm}</style></head><body></body></html>";

  it("is given its paper, unless it says that itself", () => {
    expect(pageOn(page, { paper: "A4", withCode: true })).toContain(
      "<style>@page{size:A4;margin:15mm}</style>\n</head>",
    );
    expect(pageOn(page, { paper: "Letter", withCode: true })).toContain("@page{size:letter;margin:15mm}");
    const sheet = page.replace("margin:15mm", "size:A4;margin:12mm");
    expect(pageOn(sheet, { paper: "Letter", withCode: true })).not.toContain("letter");
  });

  it("keeps or leaves out the code", () => {
    expect(pageOn(page, { paper: "A4", withCode: true })).not.toContain("details");
    expect(pageOn(page, { paper: "A4", withCode: false })).toContain("@media print{main details{display:none}}");
  });
});

it("is printed under a policy that stands before anything of the page and lets no script run", () => {
  for (const start of ["<!doctype html>", "\n<!DOCTYPE html>", ""]) {
    const page = withoutScripts(`${start}<script>1</script><html><head></head></html>`);
    expect(page.indexOf("<meta http-equiv")).toBe(start.length);
    expect(page).toContain("script-src 'none'");
    expect(page.slice(page.indexOf("<script>"))).toBe("<script>1</script><html><head></head></html>");
  }
});

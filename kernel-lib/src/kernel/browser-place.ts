import type { UserPlace } from "./kernel-folders.js";

/**
 * Where a browser that prints without a window may be found, best first: the one named in CHROMIUM, those on the path,
 * those in the usual places of the system.
 */
export function browserPlaces({ platform, home, environment }: UserPlace): readonly string[] {
  const { CHROMIUM, PATH = "", Path = PATH } = environment;
  const named = CHROMIUM ? [CHROMIUM] : [];
  if (platform === "win32") {
    const roots = [environment.ProgramFiles, environment["ProgramFiles(x86)"], environment.LOCALAPPDATA];
    const programs = [
      "Chromium\\Application\\chrome.exe",
      "Google\\Chrome\\Application\\chrome.exe",
      "Microsoft\\Edge\\Application\\msedge.exe",
    ];
    return [...named, ...roots.flatMap((root) => (root ? programs.map((program) => `${root}\\${program}`) : []))];
  }
  const onPath = Path.split(":").filter((folder) => folder !== "");
  const names = ["chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "microsoft-edge"];
  const found = names.flatMap((name) => onPath.map((folder) => `${folder}/${name}`));
  if (platform !== "darwin") return [...named, ...found];
  const apps = ["Chromium", "Google Chrome", "Microsoft Edge"].flatMap((app) =>
    ["/Applications", `${home}/Applications`].map((folder) => `${folder}/${app}.app/Contents/MacOS/${app}`),
  );
  return [...named, ...found, ...apps];
}

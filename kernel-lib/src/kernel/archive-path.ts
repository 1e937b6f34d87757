import { visible } from "../figure/markup.js";

/** names that one of the systems keeps for itself, whatever the ending */
const devices = /^(?:con|prn|aux|nul|com\d|lpt\d)(?:\..*)?$/i;

/**
 * Why a path of an archive may not be written below a folder; nothing where it may, on every system.
 *
 * @param path with forward strokes
 */
export function pathProblem(path: string): string | undefined {
  if (path === "" || path.startsWith("/") || /^[A-Za-z]:/.test(path)) return "is not below the folder";
  if (path.includes("\\")) return "holds a backward stroke";
  const parts = path.split("/");
  if (parts.includes("..")) return "climbs out of the folder";
  if (parts.includes("") || parts.includes(".")) return "has an empty part";
  if (visible(path) !== path || [...path].some((sign) => sign < " " || '<>:"|?*\u007f'.includes(sign)))
    return "holds a sign that no name may hold";
  if (parts.some((part) => devices.test(part) || /[. ]$/.test(part))) return "is a name that not every system can keep";
  return path.length > 240 ? "is too long" : undefined;
}

import type { PreambleLines } from "./preamble-lines.js";
import { refuseSheet } from "./sheet-error.js";
import type { Edge, Frame, RelativeTo, Toward } from "./surface.js";

const relations: readonly RelativeTo[] = ["travel", "gravity", "artefact"];
const edges: readonly Edge[] = ["x-", "x+", "y-", "y+"];
const directions: readonly Toward[] = ["right", "left", "back", "front"];

const linesToWrite = {
  relativeTo: '"# relative to: travel" (or gravity, or artefact: what the heights are relative to)',
  front: '"# front: y-" (the edge where you stand: y- is where y is least)',
  plusX: '"# +x: right" (which way X grows, seen from the front)',
  plusY: '"# +y: back" (which way Y grows, seen from the front)',
};

/** Reads the four lines that say what the heights are relative to and which way the map lies. */
export function readFrame(lines: PreambleLines, stated: Frame | undefined): Frame {
  const found = {
    relativeTo: choice(lines, "relative to", relations, stated?.relativeTo),
    front: choice(lines, "front", edges, stated?.front),
    plusX: choice(lines, "+x", directions, stated?.plusX),
    plusY: choice(lines, "+y", directions, stated?.plusY),
  };
  const { relativeTo, front, plusX, plusY } = found;
  if (!(relativeTo && front && plusX && plusY)) {
    const missing = (Object.keys(found) as (keyof Frame)[]).filter((key) => found[key] === undefined);
    return refuseSheet(
      "frame",
      { name: lines.name },
      `the sheet does not say which way the map lies and what its heights are relative to; write above the heading ${missing.map((key) => linesToWrite[key]).join(", ")}`,
    );
  }
  checkDirections(lines.name, front, plusX, plusY);
  return { relativeTo, front, plusX, plusY };
}

/**
 * Whether counting along X and Y gives the mirror image of the map, as counting the motion of the table does: ISO 841
 * moves the tool against the work.
 *
 * @example
 * survey.isMirrored({ relativeTo: "travel", front: "y-", plusX: "left", plusY: "back" }) // => true
 */
export function isMirrored({ plusX, plusY }: Frame): boolean {
  const angle: { readonly [D in Toward]: number } = { right: 0, back: 1, left: 2, front: 3 };
  return (angle[plusY] - angle[plusX] + 4) % 4 === 3;
}

function choice<T extends string>(
  lines: PreambleLines,
  key: string,
  words: readonly T[],
  stated: T | undefined,
): T | undefined {
  const found = lines.take(key);
  if (!found) return stated;
  const said = found.value.toLowerCase().replace(/^([+-])([xy])$/, "$2$1");
  const word = words.find((w) => w === said);
  if (word === undefined) {
    refuseSheet(
      "frame",
      { name: lines.name, line: found.line },
      `"# ${key}: ${found.value}" is not known; write ${oneOf(words)}`,
    );
  }
  if (stated !== undefined && stated !== word) {
    refuseSheet(
      "said-twice",
      { name: lines.name, line: found.line },
      `the sheet says "# ${key}: ${found.value}" and the code says ${stated}; make the two agree, or leave it out of the code`,
    );
  }
  return word;
}

/** FRONT is the edge where the axis across it is least or greatest, so that axis points away from it or towards it. */
function checkDirections(name: string, front: Edge, plusX: Toward, plusY: Toward): void {
  const across = front.startsWith("x") ? plusX : plusY;
  const along = front.startsWith("x") ? plusY : plusX;
  const needed = front.endsWith("-") ? "back" : "front";
  if (across === needed && (along === "right" || along === "left")) return;
  refuseSheet(
    "frame",
    { name },
    `front ${front}, +x ${plusX} and +y ${plusY} do not go together; with front ${front}, +${front[0]} points ${needed} and the other axis right or left`,
  );
}

function oneOf(words: readonly string[]): string {
  return `${words.slice(0, -1).join(", ")} or ${words.at(-1)}`;
}

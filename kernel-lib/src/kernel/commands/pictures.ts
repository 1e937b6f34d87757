import { existsSync } from "node:fs";
import { basename, join, relative, resolve } from "node:path";
import { MeasurementError } from "../../measurement-error.js";
import { type Command, readArguments, UsageError } from "../command.js";
import { readNotebook } from "../notebook-file.js";
import { picturesOf, pngOf } from "../pictures.js";
import { chapters, projectFolder } from "../project.js";
import { complain, say } from "../terminal.js";
import { writeWhole } from "../whole-file.js";

const help = `dialbook pictures CHAPTER…   save every figure of a notebook as a file

  CHAPTER      a number, a name or a path
  --png        as PNG too, 1280 px wide, painted by an installed browser
  --to FOLDER  where to (default build/pictures/NAME)
  --help       this text

Saved are the still pictures as SVG, from the last run kept in build/notebooks/, else as the notebook itself keeps them.
In a browser each figure has a button of its own for either: PNG as it is turned, SVG as it stands still.`;

const options = { png: { type: "boolean", default: false }, to: { type: "string" } } as const;

/** `dialbook pictures`: the figures of a notebook for a letter, a slide or a wall. */
export const picturesCommand: Command = {
  summary: "save the figures of a notebook as SVG and PNG",
  help,
  async run(args) {
    const { values, positionals } = readArguments("pictures", args, options);
    if (positionals.length === 0) throw new UsageError("pictures: name a notebook; see dialbook pictures --help");
    if (values.to !== undefined && positionals.length > 1) {
      throw new UsageError("pictures: --to is for one notebook; name one, or leave --to out");
    }
    const project = projectFolder(process.cwd());
    const saved = chapters(project, positionals, process.cwd(), "pictures").map((path) =>
      saveAll(path, project, values.png, values.to),
    );
    return saved.every((whole) => whole) ? 0 : 1;
  },
};

/** @returns whether every figure was saved */
function saveAll(path: string, project: string, withPng: boolean, to: string | undefined): boolean {
  const name = basename(path, ".ipynb");
  const kept = join(project, "build", "notebooks", `${name}.ipynb`);
  const { pictures, refused } = picturesOf(readNotebook(existsSync(kept) ? kept : path));
  if (pictures.length + refused.length === 0) {
    throw new MeasurementError(
      "no-figures",
      `pictures: ${name} shows no figure of ours; run it first: dialbook run ${name}`,
    );
  }
  const folder = to === undefined ? join(project, "build", "pictures", name) : resolve(to);
  for (const picture of pictures) {
    const files: readonly (readonly [ending: string, content: string | Uint8Array])[] = [
      ["svg", `${picture.svg}\n`],
      ...(withPng ? ([["png", pngOf(picture)]] as const) : []),
    ];
    for (const [ending, content] of files) {
      const file = join(folder, `${picture.name}.${ending}`);
      writeWhole(file, content);
      say(`saved ${relative(process.cwd(), file)}`);
    }
  }
  for (const figure of refused) {
    complain(`${name}: figure ${figure} is not as dialbook draws it and was not saved; run the notebook again`);
  }
  return refused.length === 0;
}

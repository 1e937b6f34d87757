import { rmSync } from "node:fs";
import { basename, join, relative, resolve } from "node:path";
import { gather, pack, writeFolder } from "../archive.js";
import { needWhole, runArchive } from "../archive-run.js";
import { type Command, readArguments, UsageError } from "../command.js";
import { pathIn } from "../files-used.js";
import { chapters, projectFolder } from "../project.js";
import { say } from "../terminal.js";
import { writeWhole } from "../whole-file.js";

const help = `dialbook pack [CHAPTER…]   pack notebooks with their data for somebody else to run

  CHAPTER       a number, a name or a path; all of notebooks/ when left out
  --to FILE     the archive, a .tgz (default build/archive/NAME.tgz)
  --with FILE   another file that the notebooks read; may be given again
  --timeout S   longest time for one cell, in seconds (default 120)
  --help        this text

Packed are the notebooks, every file they name, the list of closed sheets and the lock of versions. The copy is run before
it is packed, so that the numbers in the archive are those of the packed files; where a cell stops, nothing is packed.`;

const options = {
  to: { type: "string" },
  with: { type: "string", multiple: true },
  timeout: { type: "string", default: "120" },
} as const;

/** `dialbook pack`: what another person needs to get the same numbers, proved by a run of the copy. */
export const packCommand: Command = {
  summary: "pack notebooks with their data for somebody else to run",
  help,
  async run(args) {
    const { values, positionals } = readArguments("pack", args, options);
    const timeoutSeconds = Number(values.timeout);
    if (!(timeoutSeconds > 0)) throw new UsageError(`pack: --timeout "${values.timeout}" is not a number above 0`);
    if (values.to !== undefined && !/[^\\/.][^\\/]*\.(?:tgz|tar\.gz)$/.test(values.to)) {
      throw new UsageError(`pack: --to "${values.to}" is no .tgz file; give one such as my-table.tgz`);
    }
    const project = projectFolder(process.cwd());
    const paths = chapters(project, positionals, process.cwd(), "pack");
    const name = archiveName(values.to, paths, project);
    const to = values.to === undefined ? join(project, "build", "archive", `${name}.tgz`) : resolve(values.to);
    const files = gather(
      project,
      paths,
      (values.with ?? []).map((file) => resolve(file)),
    );
    const place = join(project, "build", "pack", String(process.pid));
    try {
      writeFolder(join(place, name), files);
      const ran = await runArchive({
        folder: join(place, name),
        notebooks: paths.map((path) => pathIn(project, path)),
        outputFolder: join(place, "ran"),
        timeoutSeconds,
        done: ({ name, seconds }) => say(`${name}  ran in ${seconds.toFixed(1)} s`),
      });
      needWhole(ran);
      const bytes = pack(name, files, ran);
      writeWhole(to, bytes);
      const size = `${(bytes.length / 1e6).toFixed(2)} MB`;
      say(
        [...files.map(({ path }) => `  ${path}`), `The archive: ${relative(process.cwd(), to)} (${size})`].join("\n"),
      );
    } finally {
      rmSync(place, { recursive: true, force: true });
    }
    say(`Somebody else: npm ci, then npm run dialbook -- repeat ${basename(to)}`);
    return 0;
  },
};

function archiveName(to: string | undefined, paths: readonly string[], project: string): string {
  if (to !== undefined) return basename(to).replace(/\.(?:tgz|tar\.gz)$/, "");
  const [only] = paths;
  return paths.length === 1 && only !== undefined ? basename(only, ".ipynb") : basename(project);
}

import { rmSync } from "node:fs";
import { basename, join, resolve } from "node:path";
import { type Archive, readArchive, writeFolder } from "../archive.js";
import { type RanNotebook, runArchive } from "../archive-run.js";
import { type Command, readArguments, UsageError } from "../command.js";
import { fromHere } from "../from-here.js";
import { parseNotebook } from "../notebook-file.js";
import { projectFolder } from "../project.js";
import { repeatText } from "../repeat-text.js";
import { compareRuns } from "../same-numbers.js";
import { say } from "../terminal.js";
import { versionChanges, versionsHere } from "../versions-here.js";

const help = `dialbook repeat ARCHIVE   run the notebooks of an archive again and hold the numbers against those in it

  ARCHIVE       a .tgz made by dialbook pack, or the folder it was unpacked into
  --timeout S   longest time for one cell, in seconds (default 120)
  --help        this text

What ran is kept in build/repeat/. The exit code is 0 when every number, word and figure is the same, else 1.
The notebooks are programs: run them only when you trust the person they come from.`;

/** `dialbook repeat`: the same numbers on another machine, or where they differ. */
export const repeatCommand: Command = {
  summary: "run such an archive again and compare the numbers",
  help,
  async run(args) {
    const { values, positionals } = readArguments("repeat", args, { timeout: { type: "string", default: "120" } });
    const [named, ...rest] = positionals;
    if (named === undefined || rest.length > 0) {
      throw new UsageError("repeat: name one archive; see dialbook repeat --help");
    }
    const timeoutSeconds = Number(values.timeout);
    if (!(timeoutSeconds > 0)) throw new UsageError(`repeat: --timeout "${values.timeout}" is not a number above 0`);
    const archive = readArchive(resolve(named));
    const name = basename(resolve(named)).replace(/\.(?:tgz|tar\.gz)$/, "");
    const place = join(projectFolder(process.cwd()), "build", "repeat", name);
    rmSync(place, { recursive: true, force: true });
    writeFolder(join(place, "as-packed"), archive.files);
    const ran = await runArchive({
      folder: join(place, "as-packed"),
      notebooks: archive.contents.notebooks,
      outputFolder: join(place, "ran"),
      timeoutSeconds,
      done: (chapter) => say(`${chapter.name}  ${chapter.failure ?? `ran in ${chapter.seconds.toFixed(1)} s`}`),
    });
    const { text, same } = repeatText(
      comparisons(archive, ran),
      versionChanges(archive.contents.versions, versionsHere()),
    );
    say(`${text}\nWhat ran: ${fromHere(join(place, "ran"))}`);
    return same ? 0 : 1;
  },
};

function comparisons({ files }: Archive, ran: readonly RanNotebook[]) {
  return ran.map(({ path, chapter }) => {
    const packed = files.find((file) => file.path === path);
    const before = parseNotebook(Buffer.from(packed?.bytes ?? []).toString("utf8"), path);
    return { title: chapter.title, comparison: compareRuns(before, chapter.notebook) };
  });
}

import { basename, resolve } from "node:path";
import { readArchive, writeFolder } from "../archive.js";
import { type Command, readArguments, UsageError } from "../command.js";
import { fromHere } from "../from-here.js";
import { say } from "../terminal.js";

const help = `dialbook unpack FILE [FOLDER]   unpack an archive made by dialbook pack, after a look at all that is in it

  FILE     the archive, a .tgz
  FOLDER   where to; it must be new or empty (default the name of the archive)
  --help   this text

Every file is held against its checksum first; nothing is written where one is damaged or would land elsewhere.
The notebooks are programs: run them only when you trust the person they come from.`;

/** `dialbook unpack`: the files of an archive, all of them or none. */
export const unpackCommand: Command = {
  summary: "unpack such an archive, after a look at all that is in it",
  help,
  async run(args) {
    const { positionals } = readArguments("unpack", args, {});
    const [file, folder, ...rest] = positionals;
    if (file === undefined || rest.length > 0) {
      throw new UsageError("unpack: name one archive and at most a folder; see dialbook unpack --help");
    }
    const { files } = readArchive(resolve(file));
    const to = resolve(folder ?? basename(file).replace(/\.(?:tgz|tar\.gz)$/, ""));
    writeFolder(to, files);
    const where = fromHere(to);
    say(
      `${files.map(({ path }) => `  ${path}\n`).join("")}unpacked into ${where}; the checksums of all files agree\n` +
        `Run it again: npm run dialbook -- repeat ${/[^\w./\\-]/.test(where) ? `"${where}"` : where}`,
    );
    return 0;
  },
};

import { existsSync } from "node:fs";
import { join, relative, resolve } from "node:path";
import { MeasurementError } from "../../measurement-error.js";
import { type Command, readArguments, UsageError } from "../command.js";
import { projectFolder } from "../project.js";
import { type SheetWords, sheetWords } from "../sheet-words.js";
import { say } from "../terminal.js";

const help = `dialbook check SHEET   read a sheet and say what is understood and what is wrong with it

  SHEET        a path, .csv or .xlsx, or the name of a sheet in data/: my-mill
  --sheet NAME the sheet of a workbook that has several
  --help       this text

Read are surveys, and what the chapters read besides: positioning tests, small moves, sweeps, squares, levels, warm-ups,
trials of a gauge. The exit code is 1 when the sheet can't be read, or has something to stop for.`;

/** `dialbook check`: a sheet is looked at before an evening is built on it. */
export const checkCommand: Command = {
  summary: "read a sheet and say what is wrong with it",
  help,
  async run(args) {
    const { positionals, values } = readArguments("check", args, { sheet: { type: "string" } });
    const [file, ...rest] = positionals;
    if (file === undefined || rest.length > 0) throw new UsageError("check: name one sheet; see dialbook check --help");
    const { lines, stop } = words(named(file), values.sheet);
    say(lines.join("\n"));
    return stop ? 1 : 0;
  },
};

function words(path: string, sheet: string | undefined): SheetWords {
  try {
    return sheetWords(path, sheet);
  } catch (error) {
    if (!(error instanceof MeasurementError)) throw error;
    // the sentence is made for a cell; here the choice is an option
    throw new MeasurementError(error.code, error.message.replace(/\{ sheet: (".*") \}$/, "--sheet $1"));
  }
}

/** the path given, or that of the sheet in data/ which is called so */
function named(file: string): string {
  if (existsSync(resolve(file)) || /[\\/]/.test(file)) return file;
  const folder = join(projectFolder(process.cwd()), "data");
  const found = ["", ".csv", ".xlsx"].map((end) => join(folder, `${file}${end}`)).find((path) => existsSync(path));
  if (found !== undefined) return relative(process.cwd(), found);
  return existsSync(folder) ? relative(process.cwd(), join(folder, file)) : file;
}

import { existsSync, readFileSync, statSync } from "node:fs";
import { basename, join, relative, resolve } from "node:path";
import { MeasurementError } from "../../measurement-error.js";
import { type Command, readArguments, UsageError } from "../command.js";
import { printedPage } from "../printed-page.js";
import { projectFolder } from "../project.js";
import { say } from "../terminal.js";
import { writeWhole } from "../whole-file.js";

const help = `dialbook print PAGE   print a page of a report, a sheet of paper or a shop card as PDF

  PAGE            an .html file made here, or the name of a chapter of build/report/
  --paper SIZE    A4 or Letter, where the page does not say itself (default A4)
  --without-code  leave out the code of the cells
  --to FILE       the PDF (default build/paper/NAME.pdf)
  --help          this text

An installed browser prints it without a window; where there is none, open the page in any browser and print it there.`;

const options = {
  paper: { type: "string", default: "A4" },
  "without-code": { type: "boolean", default: false },
  to: { type: "string" },
} as const;

/** `dialbook print`: what is shown, on paper. */
export const printCommand: Command = {
  summary: "print a page of a report, a sheet or a card as PDF",
  help,
  async run(args) {
    const { values, positionals } = readArguments("print", args, options);
    const [named, ...rest] = positionals;
    if (named === undefined || rest.length > 0) throw new UsageError("print: name one page; see dialbook print --help");
    const { paper } = values;
    if (paper !== "A4" && paper !== "Letter") {
      throw new UsageError(`print: --paper "${paper}" is not known; give A4 or Letter`);
    }
    const project = projectFolder(process.cwd());
    const page = pageNamed(named, project);
    const name = basename(page, ".html");
    const to = values.to === undefined ? join(project, "build", "paper", `${name}.pdf`) : resolve(values.to);
    const html = readFileSync(page, "utf8");
    writeWhole(to, printedPage(html, basename(page), { paper, withCode: !values["without-code"] }));
    say(`printed ${relative(process.cwd(), to)}`);
    return 0;
  },
};

function pageNamed(named: string, project: string): string {
  const places = [resolve(named), join(project, "build", "report", `${named}.html`)];
  const found = places.find((path) => path.endsWith(".html") && existsSync(path) && statSync(path).isFile());
  if (found !== undefined) return found;
  throw new MeasurementError(
    "no-page",
    `print: there is no page "${named}"; give an .html file, or make the report first: dialbook run --report`,
  );
}

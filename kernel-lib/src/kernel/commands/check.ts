import { readSurvey } from "../../survey/read-survey.js";
import { type Command, readArguments, UsageError } from "../command.js";
import { say } from "../terminal.js";

const help = `dialbook check FILE   read a survey sheet and say what is understood and what is wrong with it

  FILE     a sheet in one of our forms, .csv
  --help   this text

The exit code is 1 when the sheet can't be read, or has something to stop for.`;

/** `dialbook check`: a sheet is looked at before an evening is built on it. */
export const checkCommand: Command = {
  summary: "read a survey sheet and say what is wrong with it",
  help,
  async run(args) {
    const { positionals } = readArguments(args, {});
    const [file, ...rest] = positionals;
    if (file === undefined || rest.length > 0) throw new UsageError("check: name one sheet; see dialbook check --help");
    const survey = readSurvey(file);
    const health = survey.health();
    say(`${survey}\n${health}`);
    return health.findings.some(({ severity }) => severity === "stop") ? 1 : 0;
  },
};

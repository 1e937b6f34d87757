import { type ParseArgsConfig, parseArgs } from "node:util";
import { alike } from "../survey/likeness.js";

/** A subcommand: its help, and what it does; the number is the exit code. */
export interface Command {
  /** one line for the list of commands */
  readonly summary: string;
  /** the whole help */
  readonly help: string;
  run(args: readonly string[]): Promise<number>;
}

/** Misuse of the command line: a sentence, then exit code 2. */
export class UsageError extends Error {
  override readonly name = "UsageError";
}

type Options = NonNullable<ParseArgsConfig["options"]>;
type Read<O extends Options> = ReturnType<typeof parseArgs<{ options: O; allowPositionals: true; strict: true }>>;

/** Reads options and words; what is not known or not whole is refused with a sentence that names it. */
export function readArguments<O extends Options>(command: string, args: readonly string[], options: O): Read<O> {
  try {
    return parseArgs({ args: [...args], options, allowPositionals: true, strict: true });
  } catch (error) {
    throw new UsageError(`${command}: ${misuse(error instanceof Error ? error.message : String(error), options)}`);
  }
}

/** what Node's reader of options says, in our words */
function misuse(message: string, options: Options): string {
  const name = /'(-[^ ']*)/.exec(message)?.[1] ?? "";
  if (/^Unknown option/.test(message)) {
    const known = [...Object.keys(options), "help"].map((option) => `--${option}`);
    const [near] = alike(name, known);
    const end = near === undefined ? `known are ${known.join(", ")}` : `is ${near} meant? --help lists all`;
    return `option ${name} is not known; ${end}`;
  }
  if (/does not take an argument/.test(message)) return `option ${name} stands by itself; leave out what follows its =`;
  return `option ${name} needs a word after it; --help says which`;
}

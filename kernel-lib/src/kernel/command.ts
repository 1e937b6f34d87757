import { type ParseArgsConfig, parseArgs } from "node:util";

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

/** Reads options and words; what is not known is refused with a sentence that names it. */
export function readArguments<O extends Options>(args: readonly string[], options: O): Read<O> {
  try {
    return parseArgs({ args: [...args], options, allowPositionals: true, strict: true });
  } catch (error) {
    const [sentence = ""] = error instanceof Error ? error.message.split(". ") : [];
    throw new UsageError(`${sentence.replace(/\.$/, "")}; see --help`);
  }
}

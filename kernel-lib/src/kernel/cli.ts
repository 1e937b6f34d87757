import { type Command, UsageError } from "./command.js";
import { checkCommand } from "./commands/check.js";
import { kernelCommand } from "./commands/kernel.js";
import { newCommand } from "./commands/new.js";
import { openCommand } from "./commands/open.js";
import { packCommand } from "./commands/pack.js";
import { picturesCommand } from "./commands/pictures.js";
import { printCommand } from "./commands/print.js";
import { repeatCommand } from "./commands/repeat.js";
import { runCommand } from "./commands/run.js";
import { unpackCommand } from "./commands/unpack.js";
import { complain, say } from "./terminal.js";
import { version } from "./version.js";

const commands: { readonly [name: string]: Command } = {
  new: newCommand,
  open: openCommand,
  run: runCommand,
  check: checkCommand,
  kernel: kernelCommand,
  print: printCommand,
  pictures: picturesCommand,
  pack: packCommand,
  unpack: unpackCommand,
  repeat: repeatCommand,
};

/** The command line. @returns the exit code: 0 done, 1 something is wrong with the work, 2 with the command */
export async function main(args: readonly string[]): Promise<number> {
  try {
    return await dispatch(args);
  } catch (error) {
    complain(`dialbook ${error instanceof Error ? error.message : String(error)}`);
    return error instanceof UsageError ? 2 : 1;
  }
}

async function dispatch([name, ...rest]: readonly string[]): Promise<number> {
  if (name === "--version") return answer(version);
  if (name === "--help" || name === "-h") return answer(overview());
  if (name === undefined) throw new UsageError(`needs a command\n\n${overview()}`);
  const command = Object.hasOwn(commands, name) ? commands[name] : undefined;
  if (!command) {
    const known = Object.keys(commands).join(", ");
    throw new UsageError(`knows no command "${name}"; it knows ${known}, --help and --version`);
  }
  return rest.includes("--help") || rest.includes("-h") ? answer(command.help) : command.run(rest);
}

function answer(text: string): number {
  say(text);
  return 0;
}

function overview(): string {
  const rows = Object.entries(commands).map(([name, { summary }]) => `  ${name.padEnd(8)} ${summary}`);
  return `dialbook COMMAND …\n\n${rows.join("\n")}\n\n  dialbook COMMAND --help tells more; dialbook --version prints the version`;
}

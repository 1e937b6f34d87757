import { type Command, UsageError } from "./command.js";
import { checkCommand } from "./commands/check.js";
import { kernelCommand } from "./commands/kernel.js";
import { newCommand } from "./commands/new.js";
import { openCommand } from "./commands/open.js";
import { packCommand } from "./commands/pack.js";
import { printCommand } from "./commands/print.js";
import { repeatCommand } from "./commands/repeat.js";
import { runCommand } from "./commands/run.js";
import { unpackCommand } from "./commands/unpack.js";
import { version } from "./version.js";

const commands: { readonly [name: string]: Command } = {
  new: newCommand,
  open: openCommand,
  run: runCommand,
  check: checkCommand,
  kernel: kernelCommand,
  print: printCommand,
  pack: packCommand,
  unpack: unpackCommand,
  repeat: repeatCommand,
};

/** The command line. @returns the exit code: 0 done, 1 something is wrong with the work, 2 with the command */
export async function main(args: readonly string[]): Promise<number> {
  try {
    return await dispatch(args);
  } catch (error) {
    process.stderr.write(`dialbook ${error instanceof Error ? error.message : String(error)}\n`);
    return error instanceof UsageError ? 2 : 1;
  }
}

async function dispatch([name, ...rest]: readonly string[]): Promise<number> {
  if (name === "--version") return say(version);
  if (name === "--help" || name === "-h") return say(overview());
  if (name === undefined) throw new UsageError(`needs a command\n\n${overview()}`);
  const command = Object.hasOwn(commands, name) ? commands[name] : undefined;
  if (!command) {
    const known = Object.keys(commands).join(", ");
    throw new UsageError(`knows no command "${name}"; it knows ${known}, --help and --version`);
  }
  return rest.includes("--help") || rest.includes("-h") ? say(command.help) : command.run(rest);
}

function say(text: string): number {
  process.stdout.write(`${text}\n`);
  return 0;
}

function overview(): string {
  const rows = Object.entries(commands).map(([name, { summary }]) => `  ${name.padEnd(8)} ${summary}`);
  return `dialbook COMMAND …\n\n${rows.join("\n")}\n\n  dialbook COMMAND --help tells more; dialbook --version prints the version`;
}

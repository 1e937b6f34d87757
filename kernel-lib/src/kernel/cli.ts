import { type Command, UsageError } from "./command.js";
import { complain, say } from "./terminal.js";
import { version } from "./version.js";

/** each is loaded when it is asked for: a kernel needs none of the others */
const commands: { readonly [name: string]: () => Promise<Command> } = {
  new: async () => (await import("./commands/new.js")).newCommand,
  open: async () => (await import("./commands/open.js")).openCommand,
  run: async () => (await import("./commands/run.js")).runCommand,
  check: async () => (await import("./commands/check.js")).checkCommand,
  kernel: async () => (await import("./commands/kernel.js")).kernelCommand,
  print: async () => (await import("./commands/print.js")).printCommand,
  pictures: async () => (await import("./commands/pictures.js")).picturesCommand,
  pack: async () => (await import("./commands/pack.js")).packCommand,
  unpack: async () => (await import("./commands/unpack.js")).unpackCommand,
  repeat: async () => (await import("./commands/repeat.js")).repeatCommand,
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
  if (name === "--help" || name === "-h") return answer(await overview());
  if (name === undefined) throw new UsageError(`needs a command\n\n${await overview()}`);
  const load = Object.hasOwn(commands, name) ? commands[name] : undefined;
  if (!load) {
    const known = Object.keys(commands).join(", ");
    throw new UsageError(`knows no command "${name}"; it knows ${known}, --help and --version`);
  }
  const command = await load();
  return rest.includes("--help") || rest.includes("-h") ? answer(command.help) : command.run(rest);
}

function answer(text: string): number {
  say(text);
  return 0;
}

async function overview(): Promise<string> {
  const rows = await Promise.all(
    Object.entries(commands).map(async ([name, load]) => `  ${name.padEnd(8)} ${(await load()).summary}`),
  );
  return `dialbook COMMAND …\n\n${rows.join("\n")}\n\n  dialbook COMMAND --help tells more; dialbook --version prints the version`;
}

import { join } from "node:path";
import { type Command, readArguments, UsageError } from "../command.js";
import { ownCompiledCode } from "../compiled-code.js";
import { addKernelspec, removeKernelspec } from "../kernelspec.js";
import { endWithParent } from "../parent-watch.js";
import { complain, say } from "../terminal.js";

const help = `dialbook kernel add [--name NAME]      make the kernel known to Jupyter, for this user
dialbook kernel remove [--name NAME]   take it away again

  --name NAME   name of the kernel's folder (default "dialbook", which the chapters ask for)
  --help        this text`;

/** `dialbook kernel`: makes the kernel known to Jupyter front ends; `serve` is what these call. */
export const kernelCommand: Command = {
  summary: "make the kernel known to Jupyter, or take it away",
  help,
  async run(args) {
    const { values, positionals } = readArguments("kernel", args, { name: { type: "string", default: "dialbook" } });
    const [act, file, ...rest] = positionals;
    if (act === "serve" && file !== undefined && rest.length === 0) {
      // first, as the parent may go while the compiler is still being loaded
      endWithParent();
      const compiled = ownCompiledCode();
      compiled.use();
      const { serve } = await import("../launcher.js");
      await serve(file, () => compiled.keep());
      return 0;
    }
    if (file !== undefined) throw new UsageError(`kernel: "${file}" is one word too many; see dialbook kernel --help`);
    if (act === "add") {
      const bin = join(__dirname, "..", "..", "..", "bin", "dialbook.js");
      const { folder, hiddenBy } = addKernelspec(values.name, bin);
      say(`added ${folder}`);
      if (hiddenBy !== undefined) complain(hidden(hiddenBy));
      return 0;
    }
    if (act === "remove") {
      say(`removed ${removeKernelspec(values.name)}`);
      return 0;
    }
    throw new UsageError(`kernel: ${act === undefined ? "say" : `"${act}" is not known; say`} add or remove`);
  },
};

function hidden(folder: string): string {
  return `dialbook kernel: Jupyter looks into ${folder} first, and takes the kernel of this name there; remove that one, or choose another name with --name`;
}

import ts from "@tslab/typescript-for-tslab";
import type { JupyterHandlerImpl } from "tslab/dist/jupyter.js";
import { version } from "./version.js";

/** What the kernel says about itself; tslab knows how front ends are told to highlight TypeScript. */
export function kernelInfo(help: JupyterHandlerImpl): { readonly [key: string]: unknown } {
  const stock = help.handleKernel();
  return {
    ...stock,
    status: "ok",
    implementation: "dialbook",
    implementation_version: version,
    banner: `Dialbook ${version}, TypeScript ${ts.version}`,
    language_info: { ...stock.language_info, version: ts.version, pygments_lexer: "typescript" },
    help_links: [],
  };
}

import type { IRenderMime } from "@jupyterlab/rendermime-interfaces";
import type { SetFormulas } from "./formulas.js";
import { scriptFile } from "./script-file.js";

const formulas = scriptFile<SetFormulas>("formulas.js", "setFormulas");
const style = Object.assign(document.createElement("link"), { rel: "stylesheet", href: "/asset/formulas.css" });

/** Formulas in Markdown: most notebooks have none, and what sets them is asked for with the first. */
export const mathematics: IRenderMime.ILatexTypesetter = {
  typeset: async (element) => {
    if (!/\$|\\[([]/.test(element.textContent ?? "")) return;
    document.head.append(style);
    // without it the formula stands as it was written
    const setFormulas = await formulas().catch(() => undefined);
    setFormulas?.(element);
  },
};

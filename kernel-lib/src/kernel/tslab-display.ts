import { currentCell } from "./cell-context.js";
import type { PublishFor } from "./channel.js";

/** Lets `import { display } from "tslab"` in a cell show through this kernel; tslab keeps the way out in one variable. */
export function lendDisplay(publish: PublishFor): void {
  const jupyter = require("tslab/dist/jupyter.js") as {
    lastWriteDisplayData: ((data: { readonly [key: string]: unknown }, update: boolean) => void) | null;
  };
  jupyter.lastWriteDisplayData = (data, update) => {
    const context = currentCell();
    if (context) publish(update ? "update_display_data" : "display_data", data, context);
  };
}

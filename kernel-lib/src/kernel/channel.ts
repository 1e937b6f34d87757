import { join } from "node:path";
import { outputMetadata } from "../display/bundle.js";
import type { DisplayChannel } from "../display/channel.js";
import type { MimeBundle } from "../quantity/display-member.js";
import type { CellContext } from "./cell-context.js";
import { currentCell } from "./cell-context.js";
import { headlessUser } from "./wire.js";

/** Sends one iopub message on behalf of a cell. */
export type PublishFor = (type: string, content: { readonly [key: string]: unknown }, context: CellContext) => void;

/** Connects the package the cells import (its own copy of the registration point) with the running kernel. */
export function setChannel(packageFolder: string, publish: PublishFor): void {
  const registration = require(join(packageFolder, "display", "channel.js")) as typeof import("../display/channel.js");
  registration.connectChannel(kernelChannel(publish));
}

/** The channel itself: displays go to the cell whose code asks for them, also from a timer. */
export function kernelChannel(publish: PublishFor): DisplayChannel {
  const send = (type: string, data: MimeBundle, displayId: string | undefined): void => {
    const context = currentCell();
    if (!context) return;
    const transient = displayId === undefined ? {} : { display_id: displayId };
    publish(type, { data, metadata: outputMetadata(data), transient }, context);
  };
  return {
    show: (bundle, displayId) => send("display_data", bundle, displayId),
    update: (bundle, displayId) => send("update_display_data", bundle, displayId),
    get session() {
      return currentCell()?.request.header.session ?? "";
    },
    get headless() {
      return currentCell()?.request.header.username === headlessUser;
    },
  };
}

import type { MimeBundle } from "../quantity/display-member.js";
import type { Kind } from "../quantity/kinds.js";
import type { Quantity } from "../quantity/quantity.js";
import { makeBundle } from "./bundle.js";
import { html } from "./html.js";

/** A quantity: its text, the figures of equal width. */
export function quantityBundle(quantity: Quantity<Kind>): MimeBundle {
  return makeBundle(quantity.text(), html`<span class="db-quantity">${quantity.text()}</span>`);
}

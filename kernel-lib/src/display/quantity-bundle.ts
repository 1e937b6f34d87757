import type { MimeBundle } from "../quantity/display-member.js";
import type { Kind } from "../quantity/kinds.js";
import type { Quantity } from "../quantity/quantity.js";
import { makeBundle } from "./bundle.js";
import { html } from "./html.js";
import { shown } from "./preference.js";

/** A quantity: its text, the figures of equal width. */
export function quantityBundle(quantity: Quantity<Kind>): MimeBundle {
  const text = shown(quantity);
  return makeBundle(text, html`<span class="db-quantity">${text}</span>`);
}

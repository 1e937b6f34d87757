import { visible } from "../figure/markup.js";
import { display, type MimeBundle } from "../quantity/display-member.js";
import type { UnitSystem } from "../quantity/kinds.js";
import { Html, html } from "./html.js";
import { styleTag } from "./style.js";

/** A mark that survives a copy of the bundle, is the same in every copy of the package and never reaches a file. */
const own: unique symbol = Symbol.for("dialbook.made");

/** Bundle of a piece of HTML and its text, with the look wrapped round it. Every bundle of ours is made here. */
export function makeBundle(text: string, markup: Html, more: { readonly [mime: string]: unknown } = {}): MimeBundle {
  return mark({
    ...more,
    "text/html": html`<div class="dialbook">${new Html(styleTag)}${markup}</div>`.markup,
    "text/plain": visible(text),
  });
}

/** True for a bundle made by our own display code in this very process, or a copy of one; its HTML is escaped
 * throughout. The kernel marks such outputs, and a report shows the HTML of no other. A notebook file can't forge it: a
 * report is made from the outputs of the run just done, never from those found in a file. */
export function isOwnBundle(bundle: { readonly [mime: string]: unknown }): boolean {
  return Reflect.get(bundle, own) === true;
}

function mark(bundle: MimeBundle): MimeBundle {
  return Object.assign(bundle, { [own]: true });
}

/** The metadata of an output: marked when the bundle is ours. */
export function outputMetadata(bundle: { readonly [mime: string]: unknown }): { readonly dialbook?: true } {
  return isOwnBundle(bundle) ? { dialbook: true } : {};
}

/** HTML of a bundle, without the look (the whole it goes into has it); text that is not ours is escaped. */
export function bundleBody(bundle: MimeBundle): Html {
  const markup = bundle["text/html"];
  if (markup !== undefined && isOwnBundle(bundle)) return new Html(markup.replaceAll(styleTag, ""));
  return html`<pre>${bundle["text/plain"]}</pre>`;
}

/** A thing that shows itself: a table, a caution, a finding. */
export abstract class Block {
  abstract toHtml(): Html;

  abstract toString(): string;

  /** The same in the units of a system; what a person wrote stays as it is, and so does a block that says nothing else. */
  shownIn(_system: UnitSystem, _kept: readonly string[]): Block {
    return this;
  }

  [display](): MimeBundle {
    return makeBundle(this.toString(), this.toHtml());
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }
}

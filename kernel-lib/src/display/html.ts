import { escapeMarkup } from "../figure/markup.js";
import { printNumber } from "../quantity/print.js";

/** Markup that our own code wrote. Everything else is text and is escaped on its way in. */
export class Html {
  constructor(readonly markup: string) {}
}

export type HtmlPart = string | number | Html | undefined | readonly HtmlPart[];

/**
 * A piece of HTML; every value put in is escaped unless it is `Html` already, nothing is shown for `undefined`.
 *
 * Values may stand in element content and inside quoted attributes, nowhere else.
 */
export function html(strings: TemplateStringsArray, ...values: readonly HtmlPart[]): Html {
  return new Html(strings.reduce((markup, string, i) => `${markup}${partMarkup(values[i - 1])}${string}`));
}

function partMarkup(part: HtmlPart): string {
  if (part === undefined) return "";
  if (part instanceof Html) return part.markup;
  if (typeof part === "number") return escapeMarkup(printNumber(part));
  return typeof part === "string" ? escapeMarkup(part) : part.map(partMarkup).join("");
}

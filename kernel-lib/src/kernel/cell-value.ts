import { inspect } from "node:util";
import { outputMetadata } from "../display/bundle.js";
import { visible } from "../figure/markup.js";
import { display } from "../quantity/display-member.js";
import { frameTable } from "./data-frame.js";
import type { MimeData } from "./notebook.js";

/** What is shown, and whether it was made by our own display code, whose HTML a report may take over. */
export interface Shown {
  readonly data: MimeData;
  readonly metadata: { readonly [key: string]: unknown };
}

/**
 * What a notebook shows for the value of a cell's last expression.
 *
 * A value with the display member answers for itself, with everything it gives in one message; a data frame is a table;
 * a text is shown as it is, signs that a terminal would obey written out; anything else as Node prints it.
 */
export function shownValue(value: unknown): Shown {
  const own = ownBundle(value) ?? frameTable(value)?.[display]();
  if (!own) return { data: { "text/plain": plain(value) }, metadata: {} };
  const data = "text/plain" in own ? own : { ...own, "text/plain": plain(value) };
  return { data, metadata: outputMetadata(own) };
}

function ownBundle(value: unknown): MimeData | undefined {
  if ((typeof value !== "object" && typeof value !== "function") || value === null) return undefined;
  const member: unknown = Reflect.get(value, display);
  if (typeof member !== "function") return undefined;
  const bundle: unknown = Reflect.apply(member, value, []);
  return isBundle(bundle) ? bundle : undefined;
}

function isBundle(value: unknown): value is MimeData {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

function plain(value: unknown): string {
  if (value instanceof Promise) return "a promise: write await before it to see its value";
  return visible(typeof value === "string" ? value : inspect(value));
}

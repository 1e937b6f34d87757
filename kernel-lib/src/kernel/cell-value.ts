import { inspect } from "node:util";
import { display } from "../quantity/display-member.js";
import type { MimeData } from "./notebook.js";

/**
 * What a notebook shows for the value of a cell's last expression.
 *
 * A value with the display member answers for itself, with everything it gives in one message; a text is shown as it
 * is; anything else as Node prints it.
 */
export function valueBundle(value: unknown): MimeData {
  const own = ownBundle(value);
  if (own) return { "text/plain": plain(value), ...own };
  return { "text/plain": plain(value) };
}

function ownBundle(value: unknown): MimeData | undefined {
  if ((typeof value !== "object" && typeof value !== "function") || value === null) return undefined;
  const member: unknown = Reflect.get(value, display);
  if (typeof member !== "function") return undefined;
  const bundle: unknown = Reflect.apply(member, value, []);
  return typeof bundle === "object" && bundle !== null ? { ...bundle } : undefined;
}

function plain(value: unknown): string {
  if (value instanceof Promise) return "a promise: write await before it to see its value";
  return typeof value === "string" ? value : inspect(value);
}

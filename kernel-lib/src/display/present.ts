import { display, type MimeBundle } from "../quantity/display-member.js";
import { Block, bundleBody, makeBundle } from "./bundle.js";
import { findingMime } from "./finding.js";
import { html } from "./html.js";
import { Note } from "./note.js";
import { unitSystem } from "./preference.js";
import type { Table } from "./table.js";

/** How a value of a class is shown. */
export type Presenter<T> = (value: T) => MimeBundle;

/** A piece of what is shown: a sentence, a block, a value with a presenter, or a bundle; nothing for `undefined`. */
export type Part = string | { [display](): MimeBundle } | MimeBundle | undefined;

/** Shows a value as one sentence; its own text when no other is given. */
export function sentencePresenter<T extends { toString(): string }>(
  sentence: (value: T) => string = String,
): Presenter<T> {
  return (value) => stack(sentence(value));
}

/** Shows a value as a table. */
export function tablePresenter<T>(table: (value: T) => Table): Presenter<T> {
  return (value) => stack(table(value));
}

/**
 * Shows a value as several pieces below each other.
 *
 * @param kept names in these pieces that a person chose and that may hold a unit, such as "plate 300 mm"
 */
export function stackPresenter<T>(
  parts: (value: T) => readonly Part[],
  kept: (value: T) => readonly string[] = () => [],
): Presenter<T> {
  return (value) => joined(parts(value), kept(value));
}

/**
 * Joins pieces into one bundle, HTML and text both; findings are kept for the list of findings. The pictures' own forms
 * (plotly, SVG) are left out, since a front end that prefers them would show nothing else. Texts and tables written in
 * metric units are restated here in those that cells are shown in.
 */
export function stack(...parts: readonly Part[]): MimeBundle {
  return joined(parts, []);
}

function joined(parts: readonly Part[], kept: readonly string[]): MimeBundle {
  const bundles = parts.flatMap((part) => (part === undefined ? [] : [partBundle(part, kept)]));
  const found = bundles.flatMap((bundle) => findingOf(bundle));
  const text = bundles.map((bundle) => bundle["text/plain"]).join("\n\n");
  const body = html`${bundles.map(bundleBody)}`;
  return makeBundle(text, body, found.length > 0 ? { [findingMime]: { text: found.join("; ") } } : {});
}

function partBundle(given: Exclude<Part, undefined>, kept: readonly string[]): MimeBundle {
  const part = typeof given === "string" ? new Note(given) : given;
  if (part instanceof Block) return part.shownIn(unitSystem(), kept)[display]();
  return isBundle(part) ? part : part[display]();
}

function isBundle(part: { [display](): MimeBundle } | MimeBundle): part is MimeBundle {
  return !(display in part);
}

function findingOf(bundle: MimeBundle): string[] {
  const found = bundle[findingMime];
  return typeof found === "object" && found !== null && "text" in found ? [String(found.text)] : [];
}

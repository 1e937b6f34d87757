import { unbroken } from "../figure/unbroken.js";
import { Html, html } from "./html.js";

/** what a browser takes apart at its hyphens: a date, the name of a file, the name of a checksum */
const hyphened =
  /((?<![\w.-])\d{4}-\d\d-\d\d(?![\w.-])|\bSHA-256\b|(?<![\w.-])\w+(?:-\w+)+\.(?:csv|jsonl?|ipynb|html|md|xlsx|tgz)\b)/;
/** a longer name may break, as it could be wider than what it stands in */
const longName = 32;

/** spaces that join: before "± U", in "1.2 u", "A 7.1", "along x", "chapter 10" and in the name of a place, "(260, 95)" */
const joints = [
  /(?<=[\d\p{L}²³°%′″]) (?=±\u00a0\d)/gu,
  /(?<=\d) (?=u(?![\w/]))/g,
  /(?<=\b[A-Z]) (?=[−-]?\d)/g,
  /(?<=\balong) (?=[xyzXYZ]\b)/g,
  /(?<=\b[Cc]hapters?) (?=\d)/g,
  /(?<=\([−-]?[\d.]+,) (?=[−-]?[\d.]+\))/g,
];

/** A text that no line end takes apart where it must be read together: as `unbroken` keeps it, and more where HTML has the room. */
export function joined(text: string): string {
  return joints.reduce((kept, joint) => kept.replace(joint, "\u00a0"), unbroken(text));
}

/**
 * A text as HTML, joined, with its dates and names of files whole. Their signs stay as they are, so that they can be
 * copied and looked for.
 */
export function whole(text: string): Html {
  // every second piece is one that was split at
  const pieces = joined(text)
    .split(hyphened)
    .map((piece, i) =>
      i % 2 === 1 && piece.length <= longName ? html`<span class="db-whole">${piece}</span>` : html`${piece}`,
    );
  return new Html(pieces.map(({ markup }) => markup).join(""));
}

/** What a notebook shows for a value: the same thing in several forms, richest first chosen by the front end. */
export interface MimeBundle {
  readonly "text/plain": string;
  readonly "text/html"?: string;
  readonly "image/svg+xml"?: string;
  readonly [mime: string]: unknown;
}

/** The member a kernel asks a value for its bundle; a constant of our own because a computed `Symbol.for` member is
 * dropped from the declarations. */
export const display: unique symbol = Symbol.for("Jupyter.display") as never;

/** A file of the project as the list of the page shows it. */
export interface ListedFile {
  readonly name: string;
  readonly path: string;
  /** in bytes */
  readonly size: number;
  /** date and time, ISO 8601 */
  readonly modified: string;
  readonly kind: "notebook" | "open sheet" | "closed sheet" | "other";
  /** first heading of a notebook, or the line "title" of a sheet */
  readonly title?: string;
  /** what a notebook's opening asks */
  readonly question?: string;
  /** day on which a sheet was closed */
  readonly closed?: string;
  /** one sentence where a file can't be read */
  readonly problem?: string;
}

/** The notebooks and the data of a project, by name, and what was removed of them. */
export interface Listed {
  readonly notebooks: readonly ListedFile[];
  readonly data: readonly ListedFile[];
  /** latest first */
  readonly removed: readonly RemovedFile[];
}

/** A file that was removed from the list and can be brought back. */
export interface RemovedFile {
  readonly id: string;
  /** where it was, and where it comes back to */
  readonly path: string;
  /** date and time, ISO 8601 */
  readonly removed: string;
}

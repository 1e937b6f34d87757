/**
 * A notebook as the kernel folder holds it: nbformat 4.5, with every "string or list of lines" joined to one string.
 * The file `notebook-file.ts` reads and writes it; the split into lines is a matter of the file alone.
 *
 * @see the nbformat 4.5 JSON schema of the Jupyter project
 */
export interface Notebook {
  readonly cells: readonly Cell[];
  readonly metadata: NotebookMetadata;
  readonly nbformat: 4;
  readonly nbformat_minor: number;
}

export interface NotebookMetadata {
  readonly title?: string;
  readonly kernelspec?: { readonly name: string; readonly display_name: string; readonly [key: string]: unknown };
  readonly language_info?: { readonly name: string; readonly [key: string]: unknown };
  readonly [key: string]: unknown;
}

export type Cell = CodeCell | TextCell;

export interface CodeCell {
  readonly cell_type: "code";
  readonly id: string;
  readonly metadata: { readonly tags?: readonly string[]; readonly [key: string]: unknown };
  readonly source: string;
  readonly execution_count: number | null;
  readonly outputs: readonly Output[];
}

export interface TextCell {
  readonly cell_type: "markdown" | "raw";
  readonly id: string;
  readonly metadata: { readonly tags?: readonly string[]; readonly [key: string]: unknown };
  readonly source: string;
  readonly attachments?: { readonly [name: string]: MimeData };
}

/** The same thing in several forms, by MIME type; text forms are one string each, JSON forms are the value itself. */
export interface MimeData {
  readonly [mime: string]: unknown;
}

export type Output = StreamOutput | DisplayOutput | ResultOutput | ErrorOutput;

export interface StreamOutput {
  readonly output_type: "stream";
  readonly name: "stdout" | "stderr";
  readonly text: string;
}

export interface DisplayOutput {
  readonly output_type: "display_data";
  readonly data: MimeData;
  readonly metadata: { readonly [key: string]: unknown };
}

/** The value of a cell's last expression. */
export interface ResultOutput {
  readonly output_type: "execute_result";
  readonly execution_count: number | null;
  readonly data: MimeData;
  readonly metadata: { readonly [key: string]: unknown };
}

export interface ErrorOutput {
  readonly output_type: "error";
  readonly ename: string;
  readonly evalue: string;
  readonly traceback: readonly string[];
}

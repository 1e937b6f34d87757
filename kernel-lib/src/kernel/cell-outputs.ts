import type { MimeData, Output } from "./notebook.js";
import type { Message } from "./wire.js";

/** What the cells of one run have shown so far, put together from the kernel's messages as a front end would. */
export class CellOutputs {
  private readonly outputs = new Map<number, Output[]>();
  private readonly clearAtNext = new Set<number>();
  /** where each display that may still be replaced stands */
  private readonly displays = new Map<string, { readonly cell: number; readonly output: Output }[]>();

  of(cell: number): readonly Output[] {
    return this.outputs.get(cell) ?? [];
  }

  /** Takes one published message on behalf of the cell it belongs to. */
  take(cell: number, message: Message): void {
    const { content } = message;
    if (message.header.msg_type === "clear_output") this.clear(cell, content.wait === true);
    else if (message.header.msg_type === "update_display_data") this.update(content);
    else this.add(cell, outputOf(message), displayId(content));
  }

  private add(cell: number, output: Output | undefined, display: string | undefined): void {
    if (!output) return;
    if (this.clearAtNext.delete(cell)) this.outputs.set(cell, []);
    const list = this.outputs.get(cell) ?? [];
    this.outputs.set(cell, list);
    const last = list.at(-1);
    if (output.output_type === "stream" && last?.output_type === "stream" && last.name === output.name) {
      list[list.length - 1] = { ...last, text: last.text + output.text };
      return;
    }
    list.push(output);
    if (display !== undefined) this.displays.set(display, [...(this.displays.get(display) ?? []), { cell, output }]);
  }

  private update(content: Message["content"]): void {
    const id = displayId(content) ?? "";
    const replaced = (this.displays.get(id) ?? []).map(({ cell, output }) => {
      const list = this.outputs.get(cell) ?? [];
      const fresh = { ...output, data: content.data as MimeData, metadata: asRecord(content.metadata) } as Output;
      const index = list.indexOf(output);
      if (index >= 0) list[index] = fresh;
      return { cell, output: fresh };
    });
    this.displays.set(id, replaced);
  }

  private clear(cell: number, wait: boolean): void {
    if (wait) this.clearAtNext.add(cell);
    else this.outputs.set(cell, []);
  }
}

function outputOf({ header, content }: Message): Output | undefined {
  const type = header.msg_type;
  if (type === "stream") {
    return { output_type: type, name: content.name === "stderr" ? "stderr" : "stdout", text: String(content.text) };
  }
  const data = content.data as MimeData;
  const metadata = asRecord(content.metadata);
  if (type === "display_data") return { output_type: type, data, metadata };
  if (type === "execute_result") {
    return { output_type: type, execution_count: Number(content.execution_count), data, metadata };
  }
  if (type !== "error") return undefined;
  const traceback = Array.isArray(content.traceback) ? content.traceback.map(String) : [];
  return { output_type: type, ename: String(content.ename), evalue: String(content.evalue), traceback };
}

function displayId(content: Message["content"]): string | undefined {
  const id = asRecord(content.transient).display_id;
  return typeof id === "string" ? id : undefined;
}

function asRecord(value: unknown): { readonly [key: string]: unknown } {
  return typeof value === "object" && value !== null ? { ...value } : {};
}

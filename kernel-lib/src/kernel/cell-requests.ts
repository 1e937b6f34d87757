import { outputMetadata } from "../display/bundle.js";
import { note } from "../display/note.js";
import { display, type MimeBundle } from "../quantity/display-member.js";
import { CellContext, inCell } from "./cell-context.js";
import { cellErrorBox } from "./cell-error-box.js";
import type { CellError } from "./cell-errors.js";
import type { CellNotices } from "./cell-notices.js";
import type { CellOutcome, CellSession } from "./cell-session.js";
import { type Shown, shownValue } from "./cell-value.js";
import type { PublishFor } from "./channel.js";
import { History } from "./history.js";
import { lendDisplay } from "./tslab-display.js";
import { headlessUser, type Message } from "./wire.js";

type Reply = { readonly status: "ok" | "error"; readonly [key: string]: unknown };
type Ran = { readonly ok: true; readonly shown?: Shown } | { readonly ok: false; readonly error: CellError };

/** Runs the cells that front ends send: counts them, shows their values and errors, keeps the inputs. */
export class CellRequests {
  readonly history = new History();
  private count = 0;

  constructor(
    private readonly session: CellSession,
    private readonly notices: CellNotices,
    private readonly publish: PublishFor,
  ) {
    lendDisplay(publish);
  }

  async execute(request: Message): Promise<Reply> {
    const source = String(request.content.code ?? "");
    const silent = request.content.silent === true;
    const counted = !silent && request.content.store_history !== false;
    if (counted) this.count++;
    const context = new CellContext(request, this.count);
    if (!silent) this.publish("execute_input", { code: source, execution_count: this.count }, context);
    const outcome = await inCell(context, () => this.noticed(source, context, silent));
    const shown = outcome.ok && !silent ? outcome.shown : undefined;
    if (shown) this.publish("execute_result", { execution_count: this.count, ...shown }, context);
    if (counted) this.history.add(this.count, source, String(shown?.data["text/plain"] ?? ""));
    if (outcome.ok) return { status: "ok", execution_count: this.count, user_expressions: {}, payload: [] };
    return this.failed(outcome.error, context, silent);
  }

  /** Runs a cell and tells a person, not a run without one, what is worth knowing about it. */
  private async noticed(source: string, context: CellContext, silent: boolean): Promise<Ran> {
    if (silent || isHeadless(context)) return this.run(source, context);
    const tell = (sentences: readonly string[]): void => {
      for (const sentence of sentences) this.show(note(sentence)[display](), context);
    };
    tell(this.notices.before(source));
    const started = performance.now();
    const outcome = await this.run(source, context);
    const seconds = (performance.now() - started) / 1000;
    if (outcome.ok) tell(this.notices.after(source, context.cell, placeOf(context.request, source), seconds));
    return outcome;
  }

  private async run(source: string, { cell }: CellContext): Promise<Ran> {
    let outcome: CellOutcome;
    try {
      outcome = await this.session.run(source, cell);
      if (!outcome.ok) return outcome;
      return outcome.shown ? { ok: true, shown: shownValue(outcome.value) } : { ok: true };
    } catch (error) {
      return { ok: false, error: this.session.describe(error, cell) };
    }
  }

  /** A person sees the box, and the bare error beside it shows no second text; a run without one keeps the text. */
  private failed(error: CellError, context: CellContext, silent: boolean): Reply {
    const { ename, evalue, traceback, place } = error;
    const boxed = !silent && !isHeadless(context);
    if (!silent) this.publish("error", { ename, evalue, traceback: boxed ? [] : traceback }, context);
    if (boxed) this.show(cellErrorBox(error, context.cell)[display](), context);
    return { status: "error", execution_count: context.cell, ename, evalue, traceback, ...(place && { place }) };
  }

  private show(data: MimeBundle, context: CellContext): void {
    this.publish("display_data", { data, metadata: outputMetadata(data), transient: {} }, context);
  }
}

/**
 * No page to show a box on: our own runner, and programs or terminals that speak through Jupyter's Python client (scripts,
 * nbconvert, consoles), which numbers its messages session_process_count.
 */
function isHeadless({ request: { header } }: CellContext): boolean {
  return header.username === headlessUser || /_\d+_\d+$/.test(header.msg_id);
}

/** What tells a cell of the notebook from its others: its id where the front end sends one, else its text. */
function placeOf({ metadata }: Message, source: string): string {
  return typeof metadata.cellId === "string" ? metadata.cellId : source;
}

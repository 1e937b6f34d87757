import { CellContext, inCell } from "./cell-context.js";
import type { CellError } from "./cell-errors.js";
import type { CellOutcome, CellSession } from "./cell-session.js";
import { type Shown, shownValue } from "./cell-value.js";
import type { PublishFor } from "./channel.js";
import { History } from "./history.js";
import { lendDisplay } from "./tslab-display.js";
import type { Message } from "./wire.js";

type Reply = { readonly status: "ok" | "error"; readonly [key: string]: unknown };

/** Runs the cells that front ends send: counts them, shows their values and errors, keeps the inputs. */
export class CellRequests {
  readonly history = new History();
  private count = 0;

  constructor(
    private readonly session: CellSession,
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
    const outcome = await inCell(context, () => this.run(source, context));
    const shown = outcome.ok && !silent ? outcome.shown : undefined;
    if (shown) this.publish("execute_result", { execution_count: this.count, ...shown }, context);
    if (counted) this.history.add(this.count, source, String(shown?.data["text/plain"] ?? ""));
    if (outcome.ok) return { status: "ok", execution_count: this.count, user_expressions: {}, payload: [] };
    return this.failed(outcome.error, context, silent);
  }

  private async run(
    source: string,
    { cell }: CellContext,
  ): Promise<{ ok: true; shown?: Shown } | { ok: false; error: CellError }> {
    let outcome: CellOutcome;
    try {
      outcome = await this.session.run(source, cell);
      if (!outcome.ok) return outcome;
      return outcome.shown ? { ok: true, shown: shownValue(outcome.value) } : { ok: true };
    } catch (error) {
      return { ok: false, error: this.session.describe(error, cell) };
    }
  }

  private failed(error: CellError, context: CellContext, silent: boolean): Reply {
    const { ename, evalue, traceback, place } = error;
    if (!silent) this.publish("error", { ename, evalue, traceback }, context);
    return { status: "error", execution_count: context.cell, ename, evalue, traceback, ...(place && { place }) };
  }
}

import {
  acceptCompletion,
  autocompletion,
  type Completion,
  type CompletionContext,
  type CompletionResult,
  completionStatus,
  startCompletion,
} from "@codemirror/autocomplete";
import { type Extension, Prec, StateEffect, StateField } from "@codemirror/state";
import { EditorView, keymap, showTooltip, type Tooltip } from "@codemirror/view";
import type { Kernel } from "@jupyterlab/services";
import { completionOf, type TypedName, wordBefore } from "./completion.js";

/** Where help comes from: the kernel of the notebook, as long as one is there. */
export type KernelNow = () => Kernel.IKernelConnection | null | undefined;

/** Turns a text of Markdown into something to look at. */
export type ShowMarkdown = (markdown: string, into: HTMLElement) => Promise<void>;

const setHover = StateEffect.define<Tooltip | null>();

const hoverField = StateField.define<Tooltip | null>({
  create: () => null,
  update(shown, change) {
    for (const effect of change.effects) if (effect.is(setHover)) return effect.value;
    // what it says is of a place: it goes when the text or the cursor moves
    return change.docChanged || change.selection ? null : shown;
  },
  provide: (field) => showTooltip.from(field),
});

/** Help at the cursor of a code cell: names on Tab, what a name means on Shift-Tab. */
export class Help {
  constructor(
    private readonly kernel: KernelNow,
    private readonly markdown: ShowMarkdown,
  ) {}

  extension(): Extension {
    return [
      autocompletion({ override: [(context) => this.names(context)], activateOnTyping: false, icons: false }),
      hoverField,
      EditorView.focusChangeEffect.of((_, focusing) => (focusing ? null : setHover.of(null))),
      Prec.highest(
        keymap.of([
          { key: "Tab", run: (view) => acceptCompletion(view) || askNames(view) },
          { key: "Shift-Tab", run: (view) => this.askMeaning(view) },
          { key: "Escape", run: closeHover },
        ]),
      ),
    ];
  }

  private async names(context: CompletionContext): Promise<CompletionResult | null> {
    const kernel = this.kernel();
    if (!kernel) return null;
    const reply = await kernel.requestComplete({
      code: context.state.doc.toString(),
      cursor_pos: points(context.state.doc.toString(), context.pos),
    });
    const { content } = reply;
    if (content.status !== "ok" || context.aborted) return null;
    const text = context.state.doc.toString();
    const typed = (content.metadata as { _jupyter_types_experimental?: readonly TypedName[] })
      ._jupyter_types_experimental;
    const named: readonly TypedName[] = typed ?? content.matches.map((match) => ({ text: match }));
    return {
      from: units(text, content.cursor_start),
      to: units(text, content.cursor_end),
      options: named.map(
        (name): Completion => ({
          ...completionOf(name),
          ...(name.documentation && { info: () => this.box(name.documentation!) }),
        }),
      ),
      validFor: /^[\p{L}\p{N}_$]*$/u,
    };
  }

  private askMeaning(view: EditorView): boolean {
    const text = view.state.doc.toString();
    const at = view.state.selection.main.head;
    const line = view.state.doc.lineAt(at);
    if (!view.state.selection.main.empty || /^\s*$/.test(line.text.slice(0, at - line.from))) return false;
    void this.meaning(view, text, at);
    return true;
  }

  private async meaning(view: EditorView, text: string, at: number): Promise<void> {
    const kernel = this.kernel();
    if (!kernel) return;
    const { content } = await kernel.requestInspect({ code: text, cursor_pos: points(text, at), detail_level: 0 });
    if (content.status !== "ok" || !content.found || view.state.doc.toString() !== text) return;
    const said = content.data["text/markdown"] ?? `\`\`\`\n${String(content.data["text/plain"] ?? "")}\n\`\`\``;
    const dom = this.box(String(said));
    view.dispatch({ effects: setHover.of({ pos: wordBefore(text, at), above: false, create: () => ({ dom }) }) });
  }

  private box(markdown: string): HTMLElement {
    const node = document.createElement("div");
    node.className = "live-help";
    void this.markdown(markdown, node);
    return node;
  }
}

/** at the start of a line Tab indents, elsewhere it asks for names */
function askNames(view: EditorView): boolean {
  const { main } = view.state.selection;
  const line = view.state.doc.lineAt(main.head);
  if (!main.empty || /^\s*$/.test(line.text.slice(0, main.head - line.from))) return false;
  if (completionStatus(view.state) === null) startCompletion(view);
  return true;
}

function closeHover(view: EditorView): boolean {
  if (!view.state.field(hoverField, false)) return false;
  view.dispatch({ effects: setHover.of(null) });
  return true;
}

/** Jupyter counts places by characters, editors by 16-bit units. */
function points(text: string, unit: number): number {
  return Array.from(text.slice(0, unit)).length;
}

function units(text: string, point: number): number {
  return Array.from(text).slice(0, point).join("").length;
}

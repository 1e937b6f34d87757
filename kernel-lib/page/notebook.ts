import { Clipboard } from "@jupyterlab/apputils";
import { Context, type DocumentRegistry } from "@jupyterlab/docregistry";
import {
  type INotebookModel,
  NotebookActions,
  NotebookModelFactory,
  NotebookPanel,
  NotebookWidgetFactory,
  StaticNotebook,
} from "@jupyterlab/notebook";
import { MimeModel } from "@jupyterlab/rendermime";
import { Widget } from "@lumino/widgets";
import { Bar } from "./bar.js";
import { bindKeys, notebookActions } from "./commands.js";
import { element } from "./dom.js";
import { cellEditors } from "./editors.js";
import { Find } from "./find.js";
import { Help } from "./help.js";
import { KernelWatch } from "./kernel-watch.js";
import { Notices } from "./notices.js";
import { outputRendering } from "./rendering.js";
import { takeUpRunning } from "./running-cells.js";
import { Saving } from "./saving.js";
import { connectServices } from "./services.js";
import { OtherTabs } from "./tabs.js";
import { wearLook } from "./theme.js";
import { Versions } from "./versions.js";
import { WholeNotebook } from "./whole.js";
import "@jupyterlab/notebook/style/index.css";
import { styleSheet } from "../src/display/style.js";
import "./look.css";
import "./notebook.css";
import "./print.css";

/** the widgets' own rules for HTML are as specific as those of our outputs; ours are said twice, so that they win */
const outputStyle = styleSheet.replaceAll(".dialbook", ".dialbook.dialbook");

/** up to so many cells are drawn also out of view, where the browser's own search and its print find them */
const mostDrawn = 200;

/** Opens the notebook that the address names. */
async function open(path: string): Promise<void> {
  const notices = new Notices();
  document.title = `${path.split("/").at(-1)} – Dialbook`;
  const services = connectServices();
  let context: Context<INotebookModel>;
  const help = new Help(
    () => context?.sessionContext.session?.kernel,
    (markdown, into) => showMarkdown(markdown, into),
  );
  const editors = cellEditors(help);
  const rendermime = outputRendering(editors.languages);
  const showMarkdown = async (markdown: string, into: HTMLElement): Promise<void> => {
    const view = rendermime.createRenderer("text/markdown");
    await view.renderModel(new MimeModel({ data: { "text/markdown": markdown } }));
    into.replaceChildren(view.node);
  };
  const factory = new NotebookModelFactory({ disableDocumentWideUndoRedo: true });
  context = new Context<INotebookModel>({
    manager: services.manager,
    factory,
    path,
    kernelPreference: {
      shouldStart: true,
      canStart: true,
      autoStartDefault: true,
      shutdownOnDispose: false,
      language: "typescript",
      name: "dialbook",
    },
  });
  const widgets = new NotebookWidgetFactory({
    name: "Notebook",
    fileTypes: ["notebook"],
    modelName: "notebook",
    defaultFor: ["notebook"],
    preferKernel: true,
    canStartKernel: true,
    rendermime,
    contentFactory: new NotebookPanel.ContentFactory({ editorFactory: editors.factoryService.newInlineEditor }),
    mimeTypeService: editors.mimeTypeService,
    notebookConfig: { ...StaticNotebook.defaultNotebookConfig, windowingMode: "defer" },
    editorConfig: {
      ...StaticNotebook.defaultEditorConfig,
      code: {
        ...StaticNotebook.defaultEditorConfig.code,
        autoClosingBrackets: true,
        matchBrackets: true,
        lineNumbers: false,
        // on a phone a long line is read on below, not searched for at its right
        lineWrap: window.matchMedia("(max-width: 480px)").matches,
      },
    },
  });
  const panel = widgets.createNew(context as unknown as DocumentRegistry.IContext<INotebookModel>);
  const find = new Find(panel);
  const whole = new WholeNotebook(panel.content, find, notices, mostDrawn);
  notices.onDone = () => {
    if (document.activeElement === document.body) void focusCell(panel);
  };
  const saving = new Saving(context, services.drive, notices);
  const kernel = new KernelWatch(context.sessionContext, notices);
  const actions = notebookActions(panel, saving, kernel);
  const report = async (): Promise<void> => {
    if (!context.model.dirty || (await saving.save("asked")))
      location.assign(`/dialbook/report?path=${encodeURIComponent(path)}`);
  };
  const versions = new Versions(context, saving, notices);
  const bar = new Bar(panel, actions, { report: () => void report(), versions: () => void versions.show() });
  kernel.onStatus = (word, status) => bar.kernelIs(word, status);
  let savedAt: Date | undefined;
  const showSaved = (): void => bar.savedIs(context.model.dirty, savedAt);
  context.model.stateChanged.connect(showSaved);
  bindKeys(actions);
  const main = element("main", { id: "notebook" });
  document.body.replaceChildren(bar.node, find.node, notices.node, whole.unprinted, main);
  Clipboard.getInstance();
  Widget.attach(panel, main);
  new ResizeObserver(() => panel.update()).observe(main);
  forgetKernelNotes(context.model);
  try {
    await context.initialize(false);
  } catch (error) {
    notices.say("open", `${path} did not open: ${error instanceof Error ? error.message : String(error)}`);
    return;
  }
  const tabs = new OtherTabs(path, notices, () => saving.lookAtDisk());
  saving.onSaved = () => {
    savedAt = new Date();
    showSaved();
    tabs.saved();
  };
  void takeUpRunning(panel, notices);
  showSaved();
  // the keys are the notebook's from the start
  if (document.activeElement === document.body) await focusCell(panel);
  document.body.dataset.ready = "yes";
}

/** gives the keys to the notebook */
function focusCell({ content }: NotebookPanel): Promise<void> {
  return NotebookActions.focusActiveCell(content, { waitUntilReady: false, preventScroll: true });
}

/** The kernel's description of itself is written into an open notebook; that alone is no change of it. */
function forgetKernelNotes(model: INotebookModel): void {
  model.metadataChanged.connect((_, { key }) => {
    if (model.dirty || (key !== "language_info" && key !== "kernelspec")) return;
    queueMicrotask(() => {
      model.dirty = false;
    });
  });
}

document.head.append(element("style", {}, outputStyle));
document.body.classList.add("live-notebook");
wearLook();
// not from within the script as a whole: who looks at requests with the tools of a browser would have it parsed once more
queueMicrotask(() => void open(new URLSearchParams(location.search).get("path") ?? ""));

import { CodeCell } from "@jupyterlab/cells";
import type { NotebookPanel } from "@jupyterlab/notebook";
import type { Kernel, KernelMessage } from "@jupyterlab/services";
import type { Notices } from "./notices.js";
import { asked } from "./server.js";

type Request = KernelMessage.IExecuteRequestMsg;
type Future = Kernel.IShellFuture<Request, KernelMessage.IExecuteReplyMsg>;

/**
 * Cells that were running when this page was loaded, sent by the page before it: what came of them meanwhile is shown,
 * and what still comes. The server is asked for each by sending its request once more, marked so that nothing runs again.
 */
export async function takeUpRunning({ content, sessionContext }: NotebookPanel, notices: Notices): Promise<void> {
  await sessionContext.ready;
  const kernel = sessionContext.session?.kernel;
  if (!kernel) return;
  await connected(kernel);
  const requests = await asked<readonly Request[]>(`/dialbook/running/${encodeURIComponent(kernel.id)}`).catch(
    (error: Error) => {
      notices.say("running", `What still runs of an earlier page can't be asked for: ${error.message}`);
      return [];
    },
  );
  const found = requests.map((request) => {
    const future = kernel.sendShellMessage(
      { ...request, metadata: { ...request.metadata, askedAgain: true } },
      true,
    ) as Future;
    const cell = content.widgets.find(({ model }) => model.id === request.metadata.cellId);
    const isSame = cell instanceof CodeCell && cell.model.sharedModel.getSource() === request.content.code;
    if (isSame) showIn(cell, future);
    return isSame;
  });
  if (found.every((isSame) => isSame)) return;
  notices.say(
    "running",
    "A cell that ran while this page was loaded is not in the notebook as it was saved, or has another text there; its output is not shown: run it again",
  );
}

function showIn(cell: CodeCell, future: Future): void {
  const { model, outputArea } = cell;
  outputArea.future = future;
  model.executionState = "running";
  model.trusted = true;
  const ended = (count: number | null): void => {
    if (cell.isDisposed) return;
    model.executionCount = count;
    model.executionState = "idle";
  };
  future.done.then(
    ({ content }) => ended(content.execution_count ?? null),
    () => ended(null),
  );
}

/** at once, or when the line to the kernel stands */
function connected(kernel: Kernel.IKernelConnection): Promise<void> {
  if (kernel.connectionStatus === "connected") return Promise.resolve();
  return new Promise((resolve) => {
    const look = (): void => {
      if (kernel.connectionStatus !== "connected") return;
      kernel.connectionStatusChanged.disconnect(look);
      resolve();
    };
    kernel.connectionStatusChanged.connect(look);
  });
}

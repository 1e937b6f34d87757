import {
  ContentsManager,
  KernelManager,
  KernelSpecManager,
  ServerConnection,
  type ServiceManager,
  SessionManager,
} from "@jupyterlab/services";
import { GuardedDrive } from "./guarded-drive.js";

/** What the notebook's widgets need of a server: files, kernels and sessions, and nothing that our server has not. */
export interface Services {
  readonly drive: GuardedDrive;
  readonly contents: ContentsManager;
  readonly sessions: SessionManager;
  /** the same under the widgets' own type, which names more than they use */
  readonly manager: ServiceManager.IManager;
}

/** Connects to the server that the page came from; its address stands in the page. */
export function connectServices(): Services {
  const serverSettings = ServerConnection.makeSettings({ appendToken: false });
  const drive = new GuardedDrive({ serverSettings });
  const contents = new ContentsManager({ defaultDrive: drive, serverSettings });
  const kernels = new KernelManager({ serverSettings });
  const kernelspecs = new KernelSpecManager({ serverSettings });
  const sessions = new SessionManager({ kernelManager: kernels, serverSettings });
  const parts = { serverSettings, contents, kernels, kernelspecs, sessions, isReady: true, isDisposed: false };
  const ready = Promise.all([sessions.ready, kernelspecs.ready]).then(() => undefined);
  return { drive, contents, sessions, manager: { ...parts, ready } as unknown as ServiceManager.IManager };
}

import type { SheetEdit } from "../src/survey/sheet-text.js";
import type { HealthOnDisk, SaveAnswer, SheetOnDisk, SheetServer } from "./sheet-wire.js";

/** What the server refused, in its own sentence. */
export class ServerRefusal extends Error {}

const away = "the page's server does not answer; what is typed is kept here and sent again";

/** The server of this page, over its addresses. */
export const fetchServer: SheetServer = {
  async load(path) {
    return (await ask(`/dialbook/sheet?path=${encodeURIComponent(path)}`)) as SheetOnDisk;
  },
  async newer(path, version) {
    const found = await ask(`/dialbook/sheet?path=${encodeURIComponent(path)}&known=${version}`);
    return (found as { same?: boolean }).same ? undefined : (found as SheetOnDisk);
  },
  async save(path: string, base: string, edits: readonly SheetEdit[]): Promise<SaveAnswer> {
    const answer = await send("PUT", "/dialbook/sheet", { path, base, edits });
    if (answer === undefined) return { is: "away", sentence: away };
    const said = (await answer.json().catch(() => ({}))) as { version?: string; message?: string; disk?: SheetOnDisk };
    if (answer.ok && said.version !== undefined) return { is: "saved", version: said.version };
    if (answer.status === 409 && said.disk !== undefined) return { is: "changed", disk: said.disk };
    const sentence = `${said.message ?? `the server answered ${answer.status}`}; what is typed is kept here`;
    return { is: answer.status >= 500 ? "away" : "refused", sentence };
  },
  async health(path) {
    return (await ask(`/dialbook/sheet/health?path=${encodeURIComponent(path)}`)) as HealthOnDisk;
  },
  async copy(path, to, reason) {
    const answer = await send("POST", "/dialbook/sheet/copy", { path, to, reason });
    return ((await answered(answer)) as { path: string }).path;
  },
};

async function ask(address: string): Promise<unknown> {
  return answered(await fetch(address).catch(() => undefined));
}

async function answered(answer: Response | undefined): Promise<unknown> {
  if (answer === undefined)
    throw new ServerRefusal("the page's server does not answer; start it again and load this page");
  const said = (await answer.json().catch(() => ({}))) as { message?: string };
  if (answer.ok) return said;
  throw new ServerRefusal(said.message ?? `the server answered ${answer.status}`);
}

function send(method: string, address: string, body: unknown): Promise<Response | undefined> {
  const headers = { "content-type": "application/json" };
  return fetch(address, { method, headers, body: JSON.stringify(body) }).catch(() => undefined);
}

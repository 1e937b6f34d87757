/** Asks the server that the page came from. @throws Error with the server's own sentence */
export async function asked<Told>(path: string, init: RequestInit = {}): Promise<Told> {
  const answer = await fetch(path, init).catch(() => {
    throw new Error("the server does not answer; is it still running in its terminal?");
  });
  const text = await answer.text();
  if (!answer.ok) throw new Error(sentenceIn(text) ?? `the server answered ${answer.status}`);
  return (text === "" ? undefined : JSON.parse(text)) as Told;
}

function sentenceIn(text: string): string | undefined {
  try {
    const { message } = JSON.parse(text) as { message?: string };
    return message;
  } catch {
    return undefined;
  }
}

/** a change that is sent as JSON */
export function sent(method: string, body?: unknown): RequestInit {
  return body === undefined
    ? { method }
    : { method, headers: { "content-type": "application/json" }, body: JSON.stringify(body) };
}

/** address of a file below Jupyter's contents service */
export function contentsAddress(path: string): string {
  return `/api/contents/${path.split("/").map(encodeURIComponent).join("/")}`;
}

/** address of the page that opens a file */
export function pageAddress(page: "notebook" | "sheet", path: string): string {
  return `/${page}?path=${encodeURIComponent(path)}`;
}

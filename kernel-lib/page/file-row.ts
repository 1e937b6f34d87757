import type { ListedFile } from "../src/kernel/live/listed-file.js";
import { button, element } from "./dom.js";
import { ask, type Notices } from "./notices.js";
import { asked, contentsAddress, pageAddress, sent } from "./server.js";

/** One file of the list: its name, what it answers or holds, what can be done with it. */
export function fileRow(file: ListedFile, changed: () => Promise<void>, notices: Notices): HTMLElement {
  const name = file.title ?? file.name;
  const address = addressOf(file);
  const head =
    address === undefined
      ? element("span", { class: "title" }, name)
      : element("a", { class: "title", href: address }, name);
  const row = element(
    "li",
    { "data-path": file.path },
    element(
      "div",
      { class: "row" },
      head,
      mark(file),
      element("span", { class: "acts" }, ...acts(file, changed, notices)),
    ),
  );
  const said = file.problem ?? file.question;
  if (said) row.append(element("p", { class: file.problem ? "problem" : "question" }, said));
  row.append(element("p", { class: "facts" }, facts(file)));
  return row;
}

function addressOf({ kind, path }: ListedFile): string | undefined {
  if (kind === "notebook") return pageAddress("notebook", path);
  return kind === "other" ? undefined : pageAddress("sheet", path);
}

function mark({ kind }: ListedFile): HTMLElement {
  const words = { notebook: "", "open sheet": "open", "closed sheet": "closed", other: "" };
  return element("span", { class: `mark ${words[kind]}` }, words[kind]);
}

function facts({ path, size, modified, closed }: ListedFile): string {
  const kb = size < 1000 ? `${size} bytes` : `${Math.round(size / 1000)} kB`;
  const parts = [path, kb, `changed ${modified.slice(0, 10)}`];
  return [...parts, ...(closed ? [`closed on ${closed}: no reading is changed any more`] : [])].join(" · ");
}

/** only what may change: a closed sheet and files that are no survey stay as they are */
function acts(file: ListedFile, changed: () => Promise<void>, notices: Notices): readonly HTMLElement[] {
  if (file.kind !== "notebook" && file.kind !== "open sheet") return [];
  const tell = async (what: string, work: () => Promise<unknown>): Promise<void> => {
    try {
      await work();
      notices.settle("file");
    } catch (error) {
      notices.say("file", `${file.name} was not ${what}: ${(error as Error).message}`);
    }
    await changed();
  };
  return [
    button("Rename", () => void rename(file, tell), { class: "quiet", "aria-label": `Rename ${file.name}` }),
    button("Remove", () => void remove(file, tell), { class: "quiet", "aria-label": `Remove ${file.name}` }),
  ];
}

type Tell = (what: string, work: () => Promise<unknown>) => Promise<void>;

async function rename(file: ListedFile, tell: Tell): Promise<void> {
  const dot = file.name.lastIndexOf(".");
  const [stem, ending] = [file.name.slice(0, dot), file.name.slice(dot)];
  const field = element("input", { value: stem, size: "32", required: "", autofocus: "", class: "entry" });
  const body = element("label", {}, "New name ", field, element("span", { class: "soft" }, ending));
  if ((await ask(`Rename ${file.name}`, body, ["Rename", "Leave it"])) !== "Rename") return;
  const name = field.value.trim();
  if (name === "" || name === stem) return;
  const path = `${file.path.slice(0, -file.name.length)}${name}${ending}`;
  await tell("renamed", () => asked(contentsAddress(file.path), sent("PATCH", { path })));
}

async function remove(file: ListedFile, tell: Tell): Promise<void> {
  const body = element(
    "p",
    {},
    "It is kept in build/removed/ of the project; the list of removed files brings it back.",
  );
  if ((await ask(`Remove ${file.name}?`, body, ["Remove", "Leave it"])) !== "Remove") return;
  await tell("removed", () => asked(contentsAddress(file.path), sent("DELETE")));
}

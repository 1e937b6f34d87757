import type ts from "@tslab/typescript-for-tslab";
import { plainNames } from "./compile-words.js";

/** What is known of a name: its signature on one line or more, what its documentation says, its examples. */
export interface NameHelp {
  readonly signature: string;
  readonly text: string;
  readonly examples: readonly string[];
  /** other tags, each as "name what it says" */
  readonly notes: readonly string[];
}

/** Takes apart what the compiler tells of a name. */
export function nameHelp(info: ts.QuickInfo): NameHelp {
  const [text = "", ...inline] = joined(info.documentation).split(/\s*@example\s+/);
  const tags = (info.tags ?? []).map(({ name, text: parts }) => ({ name, text: joined(parts).trim() }));
  const said = tags.filter(({ name, text: words }) => words !== "" && name !== "example");
  return {
    signature: plainNames(joined(info.displayParts))
      .replace(/^\((?:method|property|alias|enum member)\) /, "")
      .replace(/\n(?:import|export) [^\n]*$/, ""),
    text: text.trim(),
    examples: [...inline.map((example) => example.trim()), ...tags.flatMap(exampleOf)],
    notes: said.map(({ name, text: words }) => note(name, words)),
  };
}

/** A hover as Markdown: signature and examples as code, the rest as prose. */
export function hoverMarkdown({ signature, text, examples, notes }: NameHelp): string {
  return [
    fenced(signature),
    ...(text === "" ? [] : [text]),
    ...(notes.length === 0 ? [] : [notes.map((line) => `- ${line}`).join("\n")]),
    ...examples.map(fenced),
  ].join("\n\n");
}

/** The same for a page or a terminal that shows plain text. */
export function hoverText({ signature, text, examples, notes }: NameHelp): string {
  const plain = notes.map((line) => line.replace(/\*\*|`/g, ""));
  return [signature, text, plain.join("\n"), ...examples.map((example) => `Example:\n${example}`)]
    .filter((part) => part !== "")
    .join("\n\n");
}

function exampleOf({ name, text }: { readonly name: string; readonly text: string }): readonly string[] {
  return name === "example" && text !== "" ? [text] : [];
}

function note(name: string, words: string): string {
  const flat = words.replace(/\s*\n\s*/g, " ");
  if (name !== "param") return `**${titles[name] ?? name}** ${flat}`;
  const [, parameter = "", rest = ""] = /^(\S+)\s*([\s\S]*)$/.exec(flat) ?? [];
  return `\`${parameter}\` ${rest}`.trimEnd();
}

const titles: { readonly [tag: string]: string } = { returns: "gives", throws: "refuses with", see: "source" };

/** as many marks as it takes, for an example may hold some itself */
function fenced(code: string): string {
  const longest = Math.max(2, ...Array.from(code.matchAll(/`+/g), ([marks]) => marks.length));
  const fence = "`".repeat(longest + 1);
  return `${fence}typescript\n${code}\n${fence}`;
}

function joined(parts: readonly ts.SymbolDisplayPart[] | undefined): string {
  return (parts ?? []).map(({ text }) => text).join("");
}

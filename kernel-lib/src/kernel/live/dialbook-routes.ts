import { basename } from "node:path";
import { MeasurementError } from "../../measurement-error.js";
import { parseNotebook } from "../notebook-file.js";
import { titleOf } from "../notebook-title.js";
import { chapterPage } from "../report.js";
import { handOrder } from "../run-order.js";
import { StarterFiles } from "../starter-files.js";
import type { StarterAnswers } from "../starters/answers.js";
import { workOf } from "../starters/index.js";
import { version } from "../version.js";
import { bytesOf } from "./file-model.js";
import { folderList } from "./folder-list.js";
import { Kept } from "./kept.js";
import type { LiveContext } from "./live-context.js";
import { needPath, placeOf } from "./place.js";
import { Refused } from "./refused.js";
import type { Answer, Json, Route } from "./route.js";
import { savedAs } from "./saved-as.js";

/**
 * What Jupyter's services have no address for: the list with questions, a new survey, a removed file brought back, the
 * report of a notebook.
 */
export function dialbookRoutes({ project }: LiveContext): readonly Route[] {
  const kept = new Kept(project);
  return [
    { method: "GET", path: "/dialbook/list", answer: () => ({ json: folderList(project) }) },
    {
      method: "POST",
      path: "/dialbook/new",
      answer: async (asked) => ({ status: 201, json: begun(project, await asked.json()) }),
    },
    {
      method: "POST",
      path: "/dialbook/back",
      answer: async (asked) => ({ json: { path: kept.bringBack(String((await asked.json()).id ?? "")) } }),
    },
    {
      method: "GET",
      path: "/dialbook/report",
      answer: ({ query }) => report(project, needPath(query.get("path"), "a report")),
    },
  ];
}

const answers = [
  "for",
  "table",
  "axis",
  "travel",
  "reference",
  "lead",
  "radius",
  "legs",
  "foot",
  "rounds",
  "hours",
  "resolution",
  "error",
  "machine",
  "workshop",
  "gauge",
  "fraction",
  "per-turn",
  "hysteresis",
  "pitch",
  "passes",
  "units",
  "heights",
  "paper",
] as const satisfies readonly (keyof StarterAnswers)[];

/** A notebook, its sheets and the sheet on paper, from what a form of the page holds. */
function begun(project: string, given: Json): StarterFiles["paths"] {
  const text = (key: string): string | undefined => {
    const value = given[key];
    return typeof value === "string" && value.trim() !== "" ? value.trim() : undefined;
  };
  const needed = (key: string): string => {
    const value = text(key);
    if (value !== undefined) return value;
    throw new Refused(400, "new", `${key}: is missing; fill it in`);
  };
  const { slot, analogue } = given;
  try {
    const typed = Object.fromEntries(answers.map((key) => [key, text(key)]));
    const name = needed("name");
    const asked = Object.fromEntries(workOf(text("for")).work.needs.map((key) => [key, needed(key)]));
    const files = StarterFiles.from(project, {
      ...typed,
      ...asked,
      name,
      resolution: needed("resolution"),
      error: needed("error"),
      analogue: analogue === true,
      slot: Array.isArray(slot) ? slot.map(String) : [],
    });
    files.write();
    return files.paths;
  } catch (error) {
    throw inWordsOfForm(error);
  }
}

/** the command line writes its options with dashes; a form has fields */
function inWordsOfForm(error: unknown): unknown {
  if (!(error instanceof MeasurementError) || error instanceof Refused) return error;
  return new Refused(
    error.code === "taken" ? 409 : 400,
    error.code,
    error.message.replace(/^new: (?:--)?/, "").replace("no matter of --for", "no matter of"),
  );
}

/**
 * The page of a notebook as it is kept, to hand on; nothing is run for it, and so no checksum of data stands below it:
 * what the cells read when they ran is not known.
 */
function report(project: string, path: string): Answer {
  const place = placeOf(project, path);
  const name = basename(place.path, ".ipynb");
  const notebook = parseNotebook(bytesOf(place).toString("utf8"), basename(place.path));
  const order = handOrder(notebook);
  const chapter = {
    name,
    title: titleOf(notebook) ?? name,
    notebook,
    seconds: 0,
    ...(order !== undefined && { handOrder: order.replace(/; what stands here .*$/, ", and is shown as saved.") }),
  };
  return {
    type: "text/html; charset=utf-8",
    body: chapterPage({ chapter, version, data: [], isKept: true }),
    headers: savedAs(`${name}.html`),
  };
}

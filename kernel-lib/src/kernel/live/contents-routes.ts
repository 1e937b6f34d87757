import { existsSync } from "node:fs";
import { basename, join } from "node:path";
import { emptyNotebook, freePlace, move } from "./arrange.js";
import { bytesOf, type FileModel, fileModel, largestFile, type Wanted } from "./file-model.js";
import { Kept } from "./kept.js";
import type { LiveKernels } from "./kernels.js";
import type { LiveContext } from "./live-context.js";
import { needPath, openFolders, type Place, placeOf } from "./place.js";
import type { Asked, Route } from "./route.js";
import { needOpen, Saving } from "./saving.js";

const unread = { content: false, hash: true };

/** Jupyter's contents service over notebooks/ and data/. */
export function contentsRoutes({ project }: LiveContext, kernels: LiveKernels): readonly Route[] {
  const saving = new Saving();
  const kept = new Kept(project);
  const placeIn = ({ open: { path = "" } }: Asked): Place => placeOf(project, path);
  const seen = (model: FileModel): FileModel => {
    saving.saw(model.path, model.hash);
    return model;
  };
  const show = (asked: Asked): FileModel =>
    asked.open.path ? seen(fileModel(placeIn(asked), wantedBy(asked))) : rootModel(project);
  return [
    ...checkpointRoutes(kept, saving, placeIn),
    { method: "GET", path: "/api/contents", answer: (asked) => ({ json: show(asked) }) },
    { method: "GET", path: "/api/contents/*path", answer: (asked) => ({ json: show(asked) }) },
    {
      method: "PUT",
      path: "/api/contents/*path",
      largest: largestFile,
      answer: async (asked) => {
        const place = placeIn(asked);
        const isNew = saving.save(place, await asked.json());
        return { status: isNew ? 201 : 200, json: fileModel(place, unread) };
      },
    },
    {
      method: "POST",
      path: "/api/contents/*path",
      answer: async (asked) => {
        const { copy_from: from, ext, type } = await asked.json();
        const source = from === undefined ? undefined : placeOf(project, needPath(from, "a copy"));
        const place = freePlace(placeIn(asked), source, type === "notebook" ? ".ipynb" : ext);
        saving.create(
          place,
          source ? bytesOf(source) : Buffer.from(place.path.endsWith(".ipynb") ? emptyNotebook() : ""),
        );
        return { status: 201, json: seen(fileModel(place, unread)) };
      },
    },
    {
      method: "PATCH",
      path: "/api/contents/*path",
      answer: async (asked) => {
        const from = placeIn(asked);
        const to = placeOf(project, needPath((await asked.json()).path, "a new name"));
        move(from, to);
        kept.moved(from, to);
        kernels.moved(from.path, to.path);
        saving.forget(from.path);
        return { json: seen(fileModel(to, unread)) };
      },
    },
    {
      method: "DELETE",
      path: "/api/contents/*path",
      answer: (asked) => {
        const place = placeIn(asked);
        needOpen(place);
        bytesOf(place);
        const where = kept.remove(place);
        saving.forget(place.path);
        return { status: 204, headers: { "dialbook-removed-to": encodeURI(where) } };
      },
    },
  ];
}

function checkpointRoutes(kept: Kept, saving: Saving, placeIn: (asked: Asked) => Place): readonly Route[] {
  const path = "/api/contents/*path/checkpoints";
  return [
    { method: "GET", path, answer: (asked) => ({ json: kept.checkpoints(placeIn(asked)) }) },
    { method: "POST", path, answer: (asked) => ({ status: 201, json: kept.keep(placeIn(asked)) }) },
    {
      method: "POST",
      path: `${path}/:id`,
      answer: (asked) => {
        const place = placeIn(asked);
        saving.restore(place, kept.checkpoint(place, asked.open.id ?? ""), kept);
        return { status: 204 };
      },
    },
    {
      method: "DELETE",
      path: `${path}/:id`,
      answer: (asked) => {
        kept.drop(placeIn(asked), asked.open.id ?? "");
        return { status: 204 };
      },
    },
  ];
}

function wantedBy({ query }: Asked): Wanted {
  return {
    content: query.get("content") !== "0",
    // with the content always, as it is what a later save is held against
    hash: query.get("hash") === "1" || query.get("content") !== "0",
    format: query.get("format") ?? undefined,
    type: query.get("type") ?? undefined,
  };
}

function rootModel(project: string): FileModel {
  const time = new Date(0).toISOString();
  const content = openFolders
    .map((name) => ({ path: name, file: join(project, name) }))
    .filter(({ file }) => existsSync(file))
    .map((place) => fileModel(place, { content: false, hash: false }));
  const common = { name: basename(project), path: "", created: time, last_modified: time, writable: false };
  const rest = { mimetype: null, size: null, hash: null, hash_algorithm: null };
  return { ...common, ...rest, type: "directory", format: "json", content };
}

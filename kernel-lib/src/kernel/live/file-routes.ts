import { basename, extname } from "node:path";
import { types } from "./assets.js";
import { bytesOf } from "./file-model.js";
import type { LiveContext } from "./live-context.js";
import { placeOf } from "./place.js";
import { filePolicy } from "./policy.js";
import type { Route } from "./route.js";
import { savedAs } from "./saved-as.js";

/** Files of the project as they are: pictures of a notebook's text, and downloads. Nothing in them runs. */
export function fileRoutes({ project }: LiveContext): readonly Route[] {
  return [
    {
      method: "GET",
      path: "/files/*path",
      answer: ({ open: { path = "" }, query }) => {
        const place = placeOf(project, path);
        return {
          body: bytesOf(place),
          type: types[extname(place.path)] ?? "application/octet-stream",
          headers: {
            "content-security-policy": filePolicy,
            ...(query.has("download") && savedAs(basename(place.path))),
          },
        };
      },
    },
  ];
}

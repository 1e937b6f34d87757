import type { LiveContext } from "./live-context.js";
import type { Route } from "./route.js";

/** The addresses of the reading sheet. */
export function sheetRoutes(_context: LiveContext): readonly Route[] {
  return [];
}

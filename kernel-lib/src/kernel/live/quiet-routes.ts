import { version } from "../version.js";
import { kernelName, type LiveKernels } from "./kernels.js";
import type { Route } from "./route.js";

const startedAt = new Date();

/** What Jupyter's widgets ask for beside contents and kernels: who is there, which kernels there are, no settings. */
export function quietRoutes(kernels: LiveKernels): readonly Route[] {
  const fixed = (path: string, json: unknown): Route => ({ method: "GET", path, answer: () => ({ json }) });
  return [
    fixed("/api", { version }),
    {
      method: "GET",
      path: "/api/status",
      answer: () => ({
        json: {
          started: startedAt.toISOString(),
          last_activity: new Date().toISOString(),
          kernels: kernels.all.length,
          connections: kernels.all.reduce((sum, { connections }) => sum + connections, 0),
        },
      }),
    },
    fixed("/api/kernelspecs", { default: kernelName, kernelspecs: { [kernelName]: spec } }),
    fixed("/api/me", { identity, permissions: {} }),
    fixed("/api/terminals", []),
    fixed("/api/config/*section", {}),
    { method: "PATCH", path: "/api/config/*section", answer: async (asked) => ({ json: await asked.json() }) },
    fixed("/lab/api/settings", { settings: [] }),
    fixed("/lab/api/settings/*id", { id: "", raw: "{}", schema: {}, settings: {}, version: "" }),
    fixed("/lab/api/translations", { data: { en: { displayName: "English", nativeName: "English" } }, message: "" }),
    fixed("/lab/api/translations/*language", { data: {}, message: "" }),
    fixed("/lab/api/workspaces", { workspaces: { ids: [], values: [] } }),
  ];
}

const spec = {
  name: kernelName,
  resources: {},
  spec: {
    argv: [],
    env: {},
    display_name: "TypeScript (Dialbook)",
    language: "typescript",
    interrupt_mode: "signal",
    metadata: {},
  },
};

const identity = {
  username: "local",
  name: "local",
  display_name: "local",
  initials: null,
  avatar_url: null,
  color: null,
};

import type { Message } from "../wire.js";
import { kernelName, type LiveKernels, type LiveSession } from "./kernels.js";
import type { LiveKernel } from "./live-kernel.js";
import type { Route } from "./route.js";

/** Jupyter's kernels and sessions, and the cells that run while the page that sent them is away. */
export function kernelRoutes(kernels: LiveKernels): readonly Route[] {
  return [
    { method: "GET", path: "/api/kernels", answer: () => ({ json: kernels.all.map(kernelModel) }) },
    {
      method: "POST",
      path: "/api/kernels",
      answer: async (asked) => {
        const { path } = await asked.json();
        const folder = typeof path === "string" && path !== "" ? path : "notebooks";
        return { status: 201, json: kernelModel(kernels.begin(folder.includes("/") ? folder : `${folder}/new.ipynb`)) };
      },
    },
    {
      method: "GET",
      path: "/dialbook/running/:id",
      answer: ({ open: { id = "" } }) => ({ json: kernels.kernel(id).unheard.map(requestModel) }),
    },
    {
      method: "GET",
      path: "/api/kernels/:id",
      answer: ({ open: { id = "" } }) => ({ json: kernelModel(kernels.kernel(id)) }),
    },
    {
      method: "DELETE",
      path: "/api/kernels/:id",
      answer: async ({ open: { id = "" } }) => {
        await kernels.end(id);
        return { status: 204 };
      },
    },
    {
      method: "POST",
      path: "/api/kernels/:id/interrupt",
      answer: async ({ open: { id = "" } }) => {
        await kernels.kernel(id).interrupt();
        return { status: 204 };
      },
    },
    {
      method: "POST",
      path: "/api/kernels/:id/restart",
      answer: async ({ open: { id = "" } }) => {
        const kernel = kernels.kernel(id);
        await kernel.restart();
        return { json: kernelModel(kernel) };
      },
    },
    { method: "GET", path: "/api/sessions", answer: () => ({ json: kernels.allSessions.map(sessionModel) }) },
    {
      method: "POST",
      path: "/api/sessions",
      answer: async (asked) => ({ status: 201, json: sessionModel(kernels.open(await asked.json())) }),
    },
    {
      method: "GET",
      path: "/api/sessions/:id",
      answer: ({ open: { id = "" } }) => ({ json: sessionModel(kernels.session(id)) }),
    },
    {
      method: "PATCH",
      path: "/api/sessions/:id",
      answer: async (asked) => ({ json: sessionModel(kernels.change(asked.open.id ?? "", await asked.json())) }),
    },
    {
      method: "DELETE",
      path: "/api/sessions/:id",
      answer: async ({ open: { id = "" } }) => {
        await kernels.endSession(id);
        return { status: 204 };
      },
    },
  ];
}

function requestModel({ header, metadata, content }: Message) {
  return { channel: "shell", header, parent_header: {}, metadata, content };
}

function kernelModel({ id, state, lastActivity, connections, reason }: LiveKernel) {
  return {
    id,
    name: kernelName,
    last_activity: lastActivity.toISOString(),
    execution_state: state,
    connections,
    ...(reason !== undefined && { reason }),
  };
}

function sessionModel({ id, path, name, type, kernel }: LiveSession) {
  return { id, path, name, type, kernel: kernelModel(kernel) };
}

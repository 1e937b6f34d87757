import { afterEach, describe, expect, it } from "vitest";
import { connectChannel } from "../../kernel-lib/src/display/channel.js";
import { servePlotly } from "../../kernel-lib/src/display/plotly-loader.js";
import { classesWithoutPresenter } from "../../kernel-lib/src/display/show.js";
import * as everything from "../../kernel-lib/src/index.js";
import { display, type MimeBundle, um } from "../../kernel-lib/src/quantity/index.js";
import { clubTable } from "../figure/club-table.js";

afterEach(() => connectChannel(undefined));

interface Call {
  readonly act: "show" | "update";
  readonly id: string | undefined;
  readonly bundle: MimeBundle;
}

function channel(session: string, headless = false): { calls: Call[]; connect: Parameters<typeof connectChannel>[0] } {
  const calls: Call[] = [];
  return {
    calls,
    connect: {
      session,
      headless,
      show: (bundle, id) => calls.push({ act: "show", id, bundle }),
      update: (bundle, id) => calls.push({ act: "update", id, bundle }),
    },
  };
}

describe("the table of presenters", () => {
  it("knows every class that a notebook can meet", () => {
    const named = Object.entries(everything).flatMap(([name, value]) =>
      typeof value === "object" && value !== null && name !== "numerics" ? [value] : [],
    );
    expect([everything, ...named].flatMap((part) => classesWithoutPresenter({ ...part }))).toEqual([]);
  });

  it("would name a class that is missing", () => {
    class Missing {}
    expect(classesWithoutPresenter({ Missing })).toEqual(["Missing"]);
  });

  it("shows a quantity as its text", () => {
    const bundle = um(2.5)[display]();
    expect(bundle["text/plain"]).toBe("2.5 µm");
    expect(bundle["text/html"]).toContain('<span class="db-quantity">2.5 µm</span>');
  });
});

describe("a figure", () => {
  const figure = everything.figure.heightMap(clubTable({ name: "</script><img src=x onerror=alert(1)>'\"" }));

  it("comes as a live picture, a still one and text, in one bundle", () => {
    const bundle = figure[display]();
    expect(Object.keys(bundle).sort()).toEqual([
      "application/vnd.plotly.v1+json",
      "image/svg+xml",
      "text/html",
      "text/plain",
    ]);
    expect(bundle["text/html"]).toContain('src="data:image/svg+xml;base64,');
  });

  it("lets no label out of its place", () => {
    const markup = figure[display]()["text/html"] ?? "";
    expect(markup).not.toContain("<img src=x");
    expect(markup.match(/<script>/g)).toHaveLength(1);
    expect(markup.match(/<\/script>/g)).toHaveLength(1);
    const spec = /data-spec='([^']*)'/.exec(markup)?.[1] ?? "";
    expect(spec).not.toContain("<");
    const read = JSON.parse(spec.replaceAll("&#39;", "'").replaceAll("&amp;", "&"));
    expect(read).toEqual({ data: figure.data, layout: figure.layout });
  });

  it("brings the plotting script once a front-end session, and takes it out of the notebook again", () => {
    const first = channel("session-1");
    const acts: (() => void)[] = [];
    servePlotly(first.connect, (act) => acts.push(act));
    servePlotly(first.connect, (act) => acts.push(act));
    expect(first.calls).toHaveLength(1);
    expect(first.calls[0]!.bundle["text/html"]!.length).toBeGreaterThan(1_500_000);
    for (const act of acts) act();
    expect(first.calls[1]).toMatchObject({ act: "update", id: first.calls[0]!.id });
    expect(first.calls[1]!.bundle["text/html"]!.length).toBeLessThan(6000);
    const reloaded = channel("session-2");
    servePlotly(reloaded.connect, () => undefined);
    expect(reloaded.calls).toHaveLength(1);
  });

  it("brings no script in a run without a front end", () => {
    const run = channel("session-3", true);
    connectChannel(run.connect);
    figure[display]();
    expect(run.calls).toEqual([]);
  });
});

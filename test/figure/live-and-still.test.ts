import { describe, expect, it } from "vitest";
import { Figure, type JsonObject } from "../../kernel-lib/src/figure/index.js";
import { figure } from "../../kernel-lib/src/index.js";
import { everyFigure } from "./every-figure.js";

/** What a picture says, part by part, as a reader sees it. */
interface Said {
  readonly title: string;
  /** every text of the picture by itself, in the order it is drawn */
  readonly texts: readonly string[];
}

/** Text of plotly's mark-up: lines joined, tags out, coded signs read. */
function plain(text: string): string {
  const words = text.replace(/<br>/g, " ").replace(/<\/?(?:b|span)\b[^>]*>/g, " ");
  return tidy(words.replaceAll("&lt;", "<").replaceAll("&gt;", ">").replaceAll("&amp;", "&"));
}

function live({ data, layout }: Figure): Said {
  const texts: string[] = [];
  const visit = (value: unknown, key = ""): void => {
    // what shows only under the pointer, or is a setting, is not said
    if (/^(?:customdata|hover\w*|family|\w*color|colorscale|type|mode|side|\w*anchor|\w*ref|method)$/.test(key)) return;
    if (typeof value === "string") texts.push(plain(value));
    else if (typeof value === "object" && value !== null)
      for (const [name, inner] of Object.entries(value)) visit(inner, name);
  };
  const seen = data.filter(({ visible }) => visible !== false);
  visit(layout);
  visit(seen);
  const { text } = layout.title as { readonly text: string };
  return { title: plain(/<b>([\s\S]*?)<\/b>/.exec(text)?.[1] ?? ""), texts };
}

function still({ still: svg }: Figure): Said {
  const read = (text = ""): string => text.replace(/&#(\d+);/g, (_, code) => String.fromCharCode(Number(code)));
  const all = [...svg.matchAll(/<text\b([^>]*)>([^<]*)<\/text>/g)].map(([, look = "", text]) => ({
    look,
    text: read(text),
  }));
  const title = all.filter(({ look }) => /font-size="15" [^>]*font-weight="600"/.test(look));
  return { title: tidy(title.map(({ text }) => text).join(" ")), texts: all.map(({ text }) => tidy(text)) };
}

function tidy(text: string): string {
  return text.replace(/\s+/g, " ").trim();
}

/** Words that a picture should say and does not, as whole words. */
function missing({ texts: said, title }: Said, { texts }: Figure): string[] {
  const all = ` ${said.join(" ")} `.replace(/\s+/g, " ");
  const isSaid = (text: string): boolean => {
    const words = tidy(text).replace(/[.*+?^${}()|[\]\\]/g, "\\$&");
    return new RegExp(`(?<![\\w.,−])${words}(?![\\w]|[.,]\\d)`).test(all);
  };
  const wanted = [texts.subtitle, ...texts.edges, ...texts.lines, ...texts.marked].filter((text) => text !== "");
  return [
    ...(title === tidy(texts.title) ? [] : [`title: ${title}`]),
    // an axis is named by itself, not in passing
    ...texts.axes
      .filter((name) => !said.includes(tidy(name)) && !said.join(" ").includes(tidy(name)))
      .map((name) => `axis: ${name}`),
    ...wanted.filter((text) => !isSaid(text)),
  ];
}

it("is held for every exported figure", () => {
  const drawing = Object.entries(figure).filter(([, value]) => typeof value === "function" && value !== Figure);
  expect(Object.keys(everyFigure).toSorted()).toEqual(drawing.map(([name]) => name).toSorted());
});

const cases = Object.entries(everyFigure).flatMap(([name, made]) =>
  Object.entries(made).map(([what, make]) => [name, what, make] as const),
);

describe.each(cases)("%s: %s", (_, __, make) => {
  it.each(["metric", "inch"] as const)("says the same live and still, in %s units", (system) => {
    const drawn = make().shownIn(system);
    expect(missing(live(drawn), drawn)).toEqual([]);
    expect(missing(still(drawn), drawn)).toEqual([]);
    const { title, subtitle, exaggeration, axes } = drawn.texts;
    expect(title).not.toBe("");
    expect(drawn.alt.length).toBeGreaterThan(20);
    if (exaggeration !== undefined) expect(subtitle).toContain(exaggeration);
    if (drawn.layout.scene !== undefined) expect(exaggeration).toMatch(/^heights × \d+$/);
    // a quantity over its unit, or what is counted in so many words
    for (const axis of axes) expect(axis).toMatch(/^[^/]+\/\S+$|^[^/]+$/);
    expect(drawn.still).not.toMatch(/NaN|undefined|Infinity/);
    expect(JSON.stringify([drawn.data, drawn.layout])).not.toMatch(/NaN|undefined|Infinity/);
  });

  it("has a name for each of its axes, the same in both", () => {
    const { layout, texts } = make();
    const scene = (layout.scene ?? layout) as JsonObject;
    const named = Object.entries(scene)
      .filter(([key]) => /^[xyz]axis$/.test(key))
      .map(([, axis]) => (axis as { readonly title?: { readonly text: string } }).title?.text ?? "")
      .filter((name) => name !== "");
    for (const name of named) expect(texts.axes).toContain(plain(name));
  });
});

describe("the comparison itself", () => {
  const [drawn] = [everyFigure.heightMap!.map!()];

  it("finds a title, an axis, a line and a value that only one of the two has", () => {
    const { texts } = drawn;
    const other = new Figure({
      ...drawn,
      texts: {
        ...texts,
        title: `${texts.title}!`,
        axes: [...texts.axes.slice(0, 2), "height/thou"],
        lines: [...texts.lines, "one line more"],
        marked: [...texts.marked, "4711"],
      },
    });
    for (const said of [live(drawn), still(drawn)]) {
      expect(missing(said, other)).toEqual([`title: ${texts.title}`, "axis: height/thou", "one line more", "4711"]);
    }
  });

  it("takes no part of a number for the number", () => {
    expect(
      missing(
        { title: "a", texts: ["12.5", "−3"] },
        new Figure({
          ...drawn,
          texts: { title: "a", subtitle: "", axes: [], edges: [], lines: [], marked: ["2.5", "12", "3"] },
        }),
      ),
    ).toEqual(["2.5", "12", "3"]);
  });
});

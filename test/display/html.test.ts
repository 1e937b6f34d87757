import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { isOwnBundle, makeBundle, outputMetadata } from "../../kernel-lib/src/display/bundle.js";
import { Html, html } from "../../kernel-lib/src/display/html.js";
import { stack } from "../../kernel-lib/src/display/present.js";

describe("a piece of HTML", () => {
  it("escapes every text put in, in content and in attributes", () => {
    fc.assert(
      fc.property(fc.string({ unit: "binary" }), (text) => {
        const { markup } = html`<b title="${text}">${text}</b>`;
        expect(markup.replace(/^<b title="|">|<\/b>$/g, "")).not.toMatch(/[<>"']/);
      }),
      { numRuns: 300, seed: 3 },
    );
  });

  it("turns a script in a label into letters", () => {
    expect(html`<p>${"<img src=x onerror=alert(1)>"}</p>`.markup).toBe("<p>&#60;img src=x onerror=alert(1)&#62;</p>");
  });

  it("keeps pieces of HTML, joins lists, prints numbers and leaves out what is missing", () => {
    expect(html`<ul>${[1, 2.5, -3].map((n) => html`<li>${n}</li>`)}${undefined}</ul>`.markup).toBe(
      "<ul><li>1</li><li>2.5</li><li>−3</li></ul>",
    );
  });
});

describe("a bundle", () => {
  it("is known as ours, and so is a copy of it, but not one from anywhere else nor one that went through a file", () => {
    const own = makeBundle("text", html`<p>text</p>`);
    expect(isOwnBundle(own)).toBe(true);
    expect(outputMetadata({ ...own })).toEqual({ dialbook: true });
    expect(isOwnBundle({ "text/plain": "x", "text/html": own["text/html"] })).toBe(false);
    expect(outputMetadata(JSON.parse(JSON.stringify(own)))).toEqual({});
  });

  it("that is not ours is shown as its text in a stack", () => {
    const bundle = stack({ "text/plain": "<b>plain</b>", "text/html": "<script>bad()</script>" }, "a sentence");
    expect(bundle["text/plain"]).toBe("<b>plain</b>\n\na sentence");
    expect(bundle["text/html"]).toContain("&#60;b&#62;plain");
    expect(bundle["text/html"]).not.toContain("bad()");
  });
});

it("markup of ours is a class of its own, so that a text can't pass for it", () => {
  expect(html`${new Html("<b>x</b>")}`.markup).toBe("<b>x</b>");
});

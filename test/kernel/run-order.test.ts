import { expect, it } from "vitest";
import { renderChapter } from "../../kernel-lib/src/kernel/report-chapter.js";
import { handOrder } from "../../kernel-lib/src/kernel/run-order.js";
import { chapter, code, text } from "./report-chapter-sample.js";

const saved = (...counts: (number | null)[]) =>
  chapter([text("# A"), ...counts.map((count, i) => code(`${i}`, [], count)), code(" ", [], null)]).notebook;
const sentence = (order: string) =>
  `The notebook was saved after its cells were run by hand in another order (${order}); what stands here is from a run top to bottom in a fresh kernel.`;

it("says nothing of a notebook run top to bottom, or not at all", () => {
  expect(handOrder(saved(1, 2, 3))).toBeUndefined();
  expect(handOrder(saved(null, null))).toBeUndefined();
});

it("tells the order that the numbers of the cells show", () => {
  expect(handOrder(saved(1, 3, 2))).toBe(sentence("1, 3, 2"));
  expect(handOrder(saved(5, 6))).toBe(sentence("5, 6"));
  expect(handOrder(saved(1, null, 2))).toBe(sentence("1, –, 2, 1 of 3 cells not run"));
  expect(handOrder(saved(1, 2, 3, 4, 9, 8, 7, 6, 10, 11))).toBe(sentence("… 4, 9, 8, 7, 6, 10 …"));
});

it("stands at the head of the chapter's page", () => {
  const ran = chapter([code("1", [])], { handOrder: sentence("3, 1") });
  expect(renderChapter(ran).markup).toContain(`<p>${sentence("3, 1")}</p>`);
  expect(renderChapter(chapter([code("1", [])])).markup).not.toContain("by hand");
});

import type { Difference } from "./difference.js";
import { element } from "./dom.js";

const shownAtOnce = 20;

/** Both states of the cells that differ, side by side, mine on the left. */
export function differenceView(found: readonly Difference[]): HTMLElement {
  const view = element("div", { class: "differences" });
  if (found.length === 0) {
    view.append(element("p", {}, "The cells are the same; outputs or notes about the file differ."));
    return view;
  }
  view.append(element("p", {}, `${found.length} ${found.length === 1 ? "cell differs" : "cells differ"}:`));
  for (const { place, mine, disk } of found.slice(0, shownAtOnce)) {
    view.append(
      element("h3", {}, `Cell ${place}`),
      element("div", { class: "both" }, side("On this page", mine), side("On the disk", disk)),
    );
  }
  if (found.length > shownAtOnce) view.append(element("p", {}, `… and ${found.length - shownAtOnce} more`));
  return view;
}

function side(title: string, text: string | undefined): HTMLElement {
  const body = text === undefined ? element("p", { class: "soft" }, "no such cell") : element("pre", {}, text);
  return element("section", {}, element("h4", {}, title), body);
}

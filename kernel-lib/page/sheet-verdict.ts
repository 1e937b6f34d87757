import { button, element } from "./dom.js";
import type { Desk } from "./sheet-desk.js";
import type { HealthOnDisk } from "./sheet-wire.js";

const words = { stop: "stop", check: "check", note: "note" } as const;

/** What the survey's own checks say of the readings so far, the worst first, each with the way to its place. */
export function verdictNode(desk: Desk, health: HealthOnDisk | undefined, go: (place: string) => void): HTMLElement {
  const node = element(
    "section",
    { class: "verdict", "aria-live": "polite" },
    element("h2", {}, "What the readings say"),
  );
  if (health === undefined) {
    node.append(element("p", { class: "soft" }, "Looked at after each reading that is saved."));
    return node;
  }
  if (health.sentence !== undefined) {
    node.append(element("p", { class: "finding stop" }, `Can't be judged yet: ${health.sentence}.`));
    return node;
  }
  const isFilling = desk.read < desk.model.spots.length;
  // while the sheet is being filled in, what is still blank stands in the count of readings
  const shown = health.findings.filter(({ check }) => !(isFilling && check === "blanks"));
  if (shown.length === 0) node.append(element("p", { class: "soft" }, "Nothing stands out so far."));
  for (const { severity, what, whatToDo, howSure, places } of shown) {
    const to = places.slice(0, 5).map((place) => button(place, () => go(place), { class: "to" }));
    node.append(
      element(
        "div",
        { class: `finding ${severity}` },
        element("p", {}, element("b", {}, words[severity]), ` ${what}: ${whatToDo}`),
        element("p", { class: "soft" }, `how sure: ${howSure} `, ...to),
      ),
    );
  }
  return node;
}

import { protocolKeys } from "../src/survey/sheet.js";
import { element } from "./dom.js";
import { headValue } from "./sheet-changes.js";
import type { Desk } from "./sheet-desk.js";

/** what is usual, beside the lines of the sheet; the same as on the paper sheet */
const hints: { readonly [key: string]: string } = {
  title: "what was measured",
  date: "year-month-day, like 2026-10-17",
  "gauge resolution": "2 µm",
  "gauge fraction estimated": "0.5: half a division",
  "gauge range": "1 mm",
  "gauge range per turn": "0.2 mm",
  "gauge maximum permissible error": "4 µm",
  "gauge hysteresis": "1 µm",
  "burrs stoned": "yes or no",
  "top wiped": "at each pass",
  "stylus preloaded": "so that lows read; by how much",
  spindle: "locked, not turned",
  quill: "in and locked",
  head: "at the height of the cut, locked",
  locks: "gibs and axis locks as in the cut, the same throughout",
  approach: "from the same side throughout; which",
  vice: "off or on",
  places: "off slots and holes, 10 mm from edges",
  "slide between places": "done, largest swing",
  feet: "tight; level checked with the table at both ends",
  thermometers: "two places; which",
  "temperature table": "17.4 °C to 18.1 °C",
  "travel x": "0 mm to 520 mm",
  "travel y": "0 mm to 230 mm",
  "slot 1": "along x, y 38 mm to 52 mm",
  "hole 1": "x 260 mm, y 120 mm, diameter 12 mm",
};

const choices: { readonly [key: string]: readonly string[] } = {
  "relative to": ["travel", "gravity", "artefact"],
  front: ["y-", "y+", "x-", "x+"],
  "+x": ["right", "left", "back", "front"],
  "+y": ["back", "front", "right", "left"],
  positive: ["surface stands high", "surface stands low"],
  zeroed: ["once", "at each pass"],
  "gauge display": ["digital", "analogue"],
};

const always = [
  "title",
  "date",
  "relative to",
  "front",
  "+x",
  "+y",
  "gauge resolution",
  "gauge maximum permissible error",
  "gauge range",
  "gauge range per turn",
  ...protocolKeys,
  "temperature table",
];

/** The lines above the heading, as fields: those the sheet has, in its order, then those that a survey wants. */
export function headFields(desk: Desk): { readonly summary: string; readonly node: HTMLElement } {
  const said = desk.model.text.head.filter(({ key }) => key !== "note" && key !== "removed");
  const wanted = desk.model.kind === "rows" ? [] : always;
  const keys = [...new Set([...said.map(({ key }) => key), ...wanted])];
  const blank = keys.filter((key) => headValue(desk.model.text, key) === "").length;
  const node = element("div", { class: "fields" }, ...keys.map((key) => field(desk, key)));
  const summary =
    blank === 0
      ? `How it was taken: all ${keys.length} lines say something`
      : `How it was taken: ${blank} of ${keys.length} lines are blank`;
  return { summary, node };
}

function field(desk: Desk, key: string): HTMLElement {
  const value = headValue(desk.model.text, key);
  const input = choices[key] === undefined ? element("input", { type: "text" }) : chooser(choices[key], value);
  if (input instanceof HTMLInputElement) {
    input.placeholder = hints[key] ?? "";
    input.autocomplete = "off";
  }
  input.value = value;
  input.disabled = !desk.isOpen;
  input.dataset.head = key;
  input.addEventListener("change", () => desk.enterHead(key, input.value.trim()));
  return element("label", { class: value === "" ? "field blank" : "field" }, element("span", {}, key), input);
}

function chooser(words: readonly string[], value: string): HTMLSelectElement {
  const all = words.includes(value) || value === "" ? words : [value, ...words];
  return element(
    "select",
    {},
    element("option", { value: "" }, "not said yet"),
    ...all.map((word) => element("option", { value: word }, word)),
  );
}

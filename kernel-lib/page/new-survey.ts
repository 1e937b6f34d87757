import { element } from "./dom.js";
import { asked as answerOf, pageAddress, sent } from "./server.js";

interface Field {
  readonly key: string;
  readonly label: string;
  readonly example: string;
  /** the works that ask for it; all where none is named */
  readonly of?: readonly string[];
  readonly optional?: true;
}

const works: readonly (readonly [value: string, label: string])[] = [
  ["table", "the table, mapped point by point"],
  ["axis", "an axis: small moves and positioning"],
  ["head", "the head: a sweep of the spindle"],
  ["square", "two axes to each other, by a square"],
  ["levels", "the table by level"],
  ["gauge", "the indicator on trial"],
  ["warm-up", "the spindle as it warms"],
];

const fields: readonly Field[] = [
  { key: "name", label: "Name of the files", example: "my-mill" },
  { key: "machine", label: "Machine", example: "bed mill by the window", optional: true },
  { key: "table", label: "Table, along X × along Y", example: "520 mm x 230 mm", of: ["table", "levels"] },
  { key: "axis", label: "Axis", example: "X", of: ["axis"] },
  { key: "travel", label: "Stretch to be tested", example: "5 mm to 235 mm", of: ["axis"] },
  { key: "reference", label: "What carries the length", example: "gauge blocks", of: ["axis"] },
  { key: "lead", label: "What one turn of the screw moves", example: "5 mm", of: ["axis"], optional: true },
  { key: "radius", label: "From the axis of the spindle to the stylus", example: "100 mm", of: ["head"] },
  { key: "legs", label: "Length of the square's legs", example: "200 mm", of: ["square"] },
  { key: "foot", label: "Between the feet of the level", example: "80 mm", of: ["levels"] },
  { key: "resolution", label: "One division of the indicator, or its last digit", example: "2 um" },
  { key: "error", label: "Its maximum permissible error, from its maker or certificate", example: "4 um" },
];

/** a level shows inclinations, not lengths */
const ofLevel: { readonly [key: string]: readonly [label: string, example: string] } = {
  resolution: ["One division of the level, or its last digit", "4 um/m"],
  error: ["Its maximum permissible error, from its maker or certificate", "10 um/m"],
};

/** A form that begins a piece of work on the person's own machine: a notebook, its sheets and the same on paper. */
export function newSurvey(made: () => Promise<void>): void {
  const work = choice("for", works);
  const inputs = new Map(fields.map((one) => [one.key, field(one.key)]));
  const units = choice("units", [
    ["", "as the lengths are given"],
    ["metric", "mm and µm"],
    ["inch", "inch and thou"],
  ]);
  const problem = element("p", { class: "problem", role: "alert" });
  const make = element("button", { type: "submit", class: "main" }, "Make them");
  const leave = element("button", { type: "button" }, "Leave it");
  const asked = element("div", { class: "asked" });
  const form = element(
    "form",
    { class: "survey" },
    element("h2", {}, "New measurement"),
    element("label", {}, "What is to be measured", work),
    asked,
    element("label", {}, "Units", units),
    problem,
    element("div", { class: "answers" }, make, leave),
  );
  const dialog = element("dialog", {}, form);
  document.body.append(dialog);
  draw();
  dialog.showModal();
  work.addEventListener("change", draw);
  dialog.addEventListener("close", () => dialog.remove());
  leave.addEventListener("click", () => dialog.close());
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    const answers = Object.fromEntries(fieldsNow().map(({ key }) => [key, inputs.get(key)!.value.trim()]));
    void begin({ ...answers, for: work.value, units: units.value });
  });

  function fieldsNow(): readonly Field[] {
    return fields.filter(({ of }) => of === undefined || of.includes(work.value));
  }

  /** only what this work needs; what was typed for another stays in its field */
  function draw(): void {
    asked.replaceChildren(
      ...fieldsNow().map(({ key, label, example, optional }) => {
        const [shown, like] = (work.value === "levels" ? ofLevel[key] : undefined) ?? [label, example];
        const input = inputs.get(key)!;
        input.required = optional !== true;
        input.placeholder = like;
        return element("label", {}, shown, input, element("span", { class: "soft" }, `like ${like}`));
      }),
    );
  }

  async function begin(answers: { readonly [key: string]: string }): Promise<void> {
    make.disabled = true;
    problem.textContent = "";
    const given = Object.fromEntries(Object.entries(answers).filter(([, value]) => value !== ""));
    try {
      const { notebook } = await answerOf<{ notebook: string }>("/dialbook/new", sent("POST", given));
      dialog.close();
      await made();
      location.assign(pageAddress("notebook", notebook));
    } catch (error) {
      problem.textContent = (error as Error).message;
      make.disabled = false;
    }
  }
}

function field(name: string): HTMLInputElement {
  return element("input", { name, autocomplete: "off", class: "entry" });
}

function choice(name: string, rows: readonly (readonly [value: string, label: string])[]): HTMLSelectElement {
  const made = element("select", { name, class: "entry" });
  made.append(...rows.map(([value, label]) => element("option", { value }, label)));
  return made;
}

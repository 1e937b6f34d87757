import { element } from "./dom.js";
import { asked, pageAddress, sent } from "./server.js";

interface Field {
  readonly key: string;
  readonly label: string;
  readonly example: string;
  readonly needed: boolean;
}

const fields: readonly Field[] = [
  { key: "name", label: "Name of the files", example: "my-mill", needed: true },
  { key: "machine", label: "Machine", example: "bed mill by the window", needed: false },
  { key: "table", label: "Table, along X × along Y", example: "520 mm x 230 mm", needed: true },
  { key: "resolution", label: "One division of the indicator, or its last digit", example: "2 um", needed: true },
  {
    key: "error",
    label: "Its maximum permissible error, from its maker or certificate",
    example: "4 um",
    needed: true,
  },
];

/** A form that begins a survey of the person's own machine: a notebook, its sheet and the sheet on paper. */
export function newSurvey(made: () => Promise<void>): void {
  const inputs = new Map(fields.map(({ key, example, needed }) => [key, field(key, example, needed)]));
  const units = element("select", { name: "units", class: "entry" });
  for (const [value, label] of [
    ["", "as the table is given"],
    ["metric", "mm and µm"],
    ["inch", "inch and thou"],
  ] as const) {
    units.append(element("option", { value }, label));
  }
  const problem = element("p", { class: "problem", role: "alert" });
  const make = element("button", { type: "submit", class: "main" }, "Make them");
  const leave = element("button", { type: "button" }, "Leave it");
  const form = element("form", { class: "survey" }, element("h2", {}, "New survey"));
  for (const { key, label, example } of fields) {
    form.append(element("label", {}, label, inputs.get(key)!, element("span", { class: "soft" }, `like ${example}`)));
  }
  form.append(element("label", {}, "Units", units), problem, element("div", { class: "answers" }, make, leave));
  const dialog = element("dialog", {}, form);
  document.body.append(dialog);
  dialog.showModal();
  dialog.addEventListener("close", () => dialog.remove());
  leave.addEventListener("click", () => dialog.close());
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    const answers = Object.fromEntries([...inputs].map(([key, input]) => [key, input.value.trim()]));
    void begin({ ...answers, units: units.value });
  });

  async function begin(answers: { readonly [key: string]: string }): Promise<void> {
    make.disabled = true;
    problem.textContent = "";
    const given = Object.fromEntries(Object.entries(answers).filter(([, value]) => value !== ""));
    try {
      const { notebook } = await asked<{ notebook: string }>("/dialbook/new", sent("POST", given));
      dialog.close();
      await made();
      location.assign(pageAddress("notebook", notebook));
    } catch (error) {
      problem.textContent = (error as Error).message;
      make.disabled = false;
    }
  }
}

function field(name: string, example: string, needed: boolean): HTMLInputElement {
  return element("input", {
    name,
    placeholder: example,
    autocomplete: "off",
    class: "entry",
    ...(needed && { required: "" }),
  });
}

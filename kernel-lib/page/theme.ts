const key = "dialbook-look";

export type Look = "system" | "light" | "dark";

const looks: readonly Look[] = ["system", "light", "dark"];
const system = matchMedia("(prefers-color-scheme: dark)");

/** The look that a person chose on this machine, or that of the system. */
export function chosenLook(): Look {
  try {
    const stored = localStorage.getItem(key);
    return looks.find((look) => look === stored) ?? "system";
  } catch {
    return "system";
  }
}

/** Puts the look on the page and keeps it there when the system changes. */
export function wearLook(): void {
  apply();
  system.addEventListener("change", apply);
}

/** The next look of the three; it is remembered on this machine only. */
export function nextLook(): Look {
  const next = looks[(looks.indexOf(chosenLook()) + 1) % looks.length]!;
  try {
    localStorage.setItem(key, next);
  } catch {
    // without storage the look lasts as long as the page
  }
  apply(next);
  return next;
}

function apply(given?: unknown): void {
  const look = typeof given === "string" ? given : chosenLook();
  const dark = look === "dark" || (look === "system" && system.matches);
  document.documentElement.dataset.look = dark ? "dark" : "light";
  // the outputs' own style sheet reads this mark
  document.body.dataset.jpThemeLight = String(!dark);
}

/** A button that says which look is worn and changes it. */
export function lookButton(): HTMLButtonElement {
  const button = document.createElement("button");
  button.type = "button";
  button.className = "quiet";
  const say = (look: Look): void => {
    button.textContent = { system: "Look: system", light: "Look: light", dark: "Look: dark" }[look];
  };
  say(chosenLook());
  button.title = "Light, dark, or as the system is set";
  button.addEventListener("click", () => say(nextLook()));
  return button;
}

type Child = Node | string;

/** An element with attributes and children; text is text, never markup. */
export function element<K extends keyof HTMLElementTagNameMap>(
  name: K,
  attributes: { readonly [name: string]: string } = {},
  ...children: readonly Child[]
): HTMLElementTagNameMap[K] {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  made.append(...children);
  return made;
}

/** A button with a word and what it does. */
export function button(label: string, act: () => void, attributes: { readonly [name: string]: string } = {}) {
  const made = element("button", { type: "button", ...attributes }, label);
  made.addEventListener("click", act);
  return made;
}

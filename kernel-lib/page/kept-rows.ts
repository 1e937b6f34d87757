/** what a row was made of */
const madeOf = new WeakMap<Element, string>();

/**
 * Shows a list of things, a row each. A row whose thing is as it was stays the element it is: a list is loaded anew when
 * its window comes to the front, which is in the middle of a press of the mouse on it.
 */
export function keepRows<Thing>(
  list: HTMLElement,
  things: readonly Thing[],
  make: (thing: Thing) => HTMLElement,
): void {
  const before = new Map(Array.from(list.children, (row) => [madeOf.get(row), row]));
  const rows = things.map((thing) => {
    const text = JSON.stringify(thing);
    const row = before.get(text) ?? make(thing);
    madeOf.set(row, text);
    return row;
  });
  for (const row of before.values()) if (!rows.includes(row)) row.remove();
  rows.forEach((row, at) => {
    if (list.children[at] !== row) list.insertBefore(row, list.children[at] ?? null);
  });
}

import type { SheetColumns } from "./columns.js";
import { isDatum } from "./sheet.js";

/** Whether a place was read twice in a pass and nothing tells the two readings apart: the order does where a column
 * gives it, and a datum is read again and again. */
export function isRepeated(columns: SheetColumns): boolean {
  const { count, order } = columns;
  if (typeof order === "object") {
    let i = 1;
    while (i < count && order[i]! > order[i - 1]!) i++;
    return i < count && repeatedInOrder(columns, order);
  }
  const { place, pass, labels } = columns;
  const datum = Uint8Array.from(labels, (label) => (isDatum(label) ? 1 : 0));
  const passOf = new Map<number, number>();
  for (let i = 0; i < count; i++) if (pass[i] !== pass[i - 1]) passOf.set(pass[i]!, 0);
  [...passOf.keys()].forEach((number, k) => void passOf.set(number, k));
  const cells = passOf.size * labels.length;
  if (cells > 16 * count + 1e6) return repeatedInOrder(columns, new Float64Array(count).fill(Number.NaN));
  const seen = new Uint8Array(cells);
  let row = 0;
  for (let i = 0; i < count; i++) {
    if (pass[i] !== pass[i - 1]) row = passOf.get(pass[i]!)! * labels.length;
    const cell = row + place[i]!;
    if (seen[cell] === 1 && datum[place[i]!] === 0) return true;
    seen[cell] = 1;
  }
  return false;
}

/** the same where an order must be compared too: rows are sorted, like ones then stand side by side */
function repeatedInOrder({ count, place, pass, labels }: SheetColumns, order: ArrayLike<number>): boolean {
  const byOrder = (i: number, j: number) => {
    const gap = order[i]! - order[j]!;
    return Number.isNaN(gap) ? Number(Number.isNaN(order[i])) - Number(Number.isNaN(order[j])) : gap;
  };
  const compare = (i: number, j: number) => place[i]! - place[j]! || pass[i]! - pass[j]! || byOrder(i, j);
  const rows = Uint32Array.from({ length: count }, (_, i) => i).sort(compare);
  for (let k = 1; k < count; k++) {
    if (compare(rows[k]!, rows[k - 1]!) !== 0) continue;
    if (!(isDatum(labels[place[rows[k]!]!]!) && Number.isNaN(order[rows[k]!]!))) return true;
  }
  return false;
}

/** A row of the materials table: expansion in 10⁻⁶/K with the half-width of its limits, modulus in GPa from, to. */
export interface MaterialRow {
  readonly name: string;
  readonly expansion: number;
  readonly halfWidth: number;
  readonly modulus?: readonly [from: number, to: number];
  readonly source: string;
}

const usual = "usual workshop figure and limits (common practice, no source)";
const handbook =
  "Callister, Materials Science and Engineering, tables B.2 and B.6; limits ± 1: common practice, no source";

/** Expansion near room temperature. The limits hold the spread between alloys and heats of one name; a certificate of the
 * bar in hand is better. Moduli: range of the handbook's table, widened by 3 % where it prints one figure. */
export const materialRows: readonly MaterialRow[] = [
  {
    name: "steel",
    expansion: 11.5,
    halfWidth: 1,
    modulus: [201, 213],
    source: `${usual}; modulus: Callister, table B.2`,
  },
  {
    name: "grey iron",
    expansion: 11,
    halfWidth: 1,
    modulus: [66, 138],
    source: `${usual}; modulus: Callister, table B.2, three classes`,
  },
  { name: "ductile iron", expansion: 10.9, halfWidth: 1, modulus: [163, 174], source: handbook },
  {
    name: "aluminium alloy",
    expansion: 23,
    halfWidth: 1,
    modulus: [67, 74],
    source: `${usual}; modulus: Callister, table B.2, wrought alloys`,
  },
  { name: "aluminium 6061", expansion: 23.6, halfWidth: 1, modulus: [67, 71], source: handbook },
  { name: "aluminium 7075", expansion: 23.4, halfWidth: 1, modulus: [69, 73], source: handbook },
  { name: "cast aluminium 356", expansion: 21.5, halfWidth: 1, modulus: [70, 75], source: handbook },
  { name: "cartridge brass", expansion: 19.9, halfWidth: 1, source: handbook },
  { name: "free-cutting brass", expansion: 20.5, halfWidth: 1, source: handbook },
  {
    name: "granite",
    expansion: 7.4,
    halfWidth: 2,
    modulus: [50, 90],
    source: "a public materials database, generic granite; limits: common practice, no source",
  },
  {
    name: "36 % nickel iron",
    expansion: 1.6,
    halfWidth: 0.8,
    source: "Callister, table B.6; limits: common practice, no source",
  },
];

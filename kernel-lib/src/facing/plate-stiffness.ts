import { BandMatrix } from "../numerics/band-cholesky.js";

/** A rectangular plate on a net of nodes; lengths in mm, modulus in N/mm². */
export interface PlateNet {
  /** nodes along x and along y, 3 or more */
  readonly columns: number;
  readonly rows: number;
  readonly lengthMm: number;
  readonly widthMm: number;
  readonly thicknessMm: number;
  readonly modulusMPa: number;
  readonly poisson: number;
}

/** Number of the node in column i, row j. */
export function nodeOf({ rows }: PlateNet, i: number, j: number): number {
  return i * rows + j;
}

/** Where node k lies on the plate, from its corner. */
export function nodePlaceMm(net: PlateNet, k: number): readonly [x: number, y: number] {
  const [i, j] = [Math.floor(k / net.rows), k % net.rows];
  return [(i * net.lengthMm) / (net.columns - 1), (j * net.widthMm) / (net.rows - 1)];
}

/** Area in mm² that each node stands for: half at an edge, a quarter at a corner. */
export function nodeAreasMm2(net: PlateNet): Float64Array {
  const [hx, hy] = spacing(net);
  const half = (at: number, count: number) => (at === 0 || at === count - 1 ? 0.5 : 1);
  return Float64Array.from(
    { length: net.columns * net.rows },
    (_, k) => hx * hy * half(Math.floor(k / net.rows), net.columns) * half(k % net.rows, net.rows),
  );
}

/** Bending stiffness E t³ / 12 (1 − ν²), N·mm. */
export function bendingStiffness({ modulusMPa, thicknessMm, poisson }: PlateNet): number {
  return (modulusMPa * thicknessMm ** 3) / (12 * (1 - poisson ** 2));
}

/**
 * Stiffness matrix of a thin plate with free edges, N/mm: force at each node for a deflection of each node.
 *
 * Finite differences of the strain energy ½ D ∫ (w_xx² + w_yy² + 2 ν w_xx w_yy + 2 (1 − ν) w_xy²), so that free edges and
 * corners need no conditions of their own. At an edge the bending moment across it is zero: there w_xx = −ν w_yy. Thin
 * plate: shear is not in it; at a span of ten thicknesses that is about 3 %.
 */
export function plateStiffness(net: PlateNet): BandMatrix {
  const matrix = new BandMatrix(net.columns * net.rows, 2 * net.rows);
  const d = bendingStiffness(net);
  const [hx, hy] = spacing(net);
  for (let i = 0; i < net.columns; i++) {
    for (let j = 0; j < net.rows; j++) addNode(matrix, net, d, i, j);
  }
  for (let i = 0; i + 1 < net.columns; i++) {
    for (let j = 0; j + 1 < net.rows; j++) {
      const nodes = [
        nodeOf(net, i, j),
        nodeOf(net, i + 1, j),
        nodeOf(net, i, j + 1),
        nodeOf(net, i + 1, j + 1),
      ] as const;
      const twist = nodes.map((node, k): Part => [node, (k === 0 || k === 3 ? 1 : -1) / (hx * hy)]);
      addProduct(matrix, twist, twist, 2 * d * (1 - net.poisson) * hx * hy);
    }
  }
  return matrix;
}

type Part = readonly [node: number, factor: number];

function addNode(matrix: BandMatrix, net: PlateNet, d: number, i: number, j: number): void {
  const { columns, rows, poisson: nu } = net;
  const [hx, hy] = spacing(net);
  const alongX = i > 0 && i < columns - 1 ? second(nodeOf(net, i, j), rows, hx) : undefined;
  const alongY = j > 0 && j < rows - 1 ? second(nodeOf(net, i, j), 1, hy) : undefined;
  if (alongX && alongY) {
    addProduct(matrix, alongX, alongX, d * hx * hy);
    addProduct(matrix, alongY, alongY, d * hx * hy);
    addProduct(matrix, alongX, alongY, d * nu * hx * hy);
    addProduct(matrix, alongY, alongX, d * nu * hx * hy);
  } else if (alongX ?? alongY) {
    const along = (alongX ?? alongY)!;
    addProduct(matrix, along, along, (d * (1 - nu * nu) * hx * hy) / 2);
  }
}

function second(node: number, step: number, h: number): readonly Part[] {
  return [
    [node - step, 1 / h ** 2],
    [node, -2 / h ** 2],
    [node + step, 1 / h ** 2],
  ];
}

/** adds factor · (Σ a u)(Σ b u), one triangle of it */
function addProduct(matrix: BandMatrix, a: readonly Part[], b: readonly Part[], factor: number): void {
  for (const [p, x] of a) for (const [q, y] of b) if (p >= q) matrix.add(p, q, factor * x * y);
}

function spacing({ columns, rows, lengthMm, widthMm }: PlateNet): readonly [number, number] {
  return [lengthMm / (columns - 1), widthMm / (rows - 1)];
}

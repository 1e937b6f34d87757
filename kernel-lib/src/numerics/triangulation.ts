export type Triangle = readonly [number, number, number];

interface Point {
  readonly u: number;
  readonly v: number;
}

interface Circle {
  readonly corners: Triangle;
  readonly u: number;
  readonly v: number;
  readonly radius2: number;
}

/**
 * Delaunay triangulation of scattered places (Bowyer–Watson, one place at a time); empty when all are on one line.
 * Of two places at the same spot the later one is left out of the net.
 */
export function triangulate(points: readonly Point[]): readonly Triangle[] {
  const far = farCorners(points);
  const all = [...points, ...far];
  const n = points.length;
  let net: Circle[] = [circle(all, [n, n + 1, n + 2])!];
  const seen = new Set<string>();
  for (let i = 0; i < n; i++) {
    const point = all[i]!;
    const spot = `${point.u} ${point.v}`;
    if (seen.has(spot)) continue;
    seen.add(spot);
    const hit = net.filter(({ u, v, radius2 }) => (point.u - u) ** 2 + (point.v - v) ** 2 < radius2);
    const rim = rimOf(hit);
    const kept = net.filter((triangle) => !hit.includes(triangle));
    const fresh = rim.map(([a, b]) => circle(all, [a, b, i])).filter((triangle) => triangle !== undefined);
    net = [...kept, ...fresh];
  }
  return net.map(({ corners }) => corners).filter((corners) => corners.every((corner) => corner < n));
}

/** A triangle far around everything. */
function farCorners(points: readonly Point[]): Point[] {
  const us = points.map(({ u }) => u);
  const vs = points.map(({ v }) => v);
  const [u0, v0] = [Math.min(...us), Math.min(...vs)];
  const span = Math.max(Math.max(...us) - u0, Math.max(...vs) - v0, 1) * 1000;
  return [
    { u: u0 - span, v: v0 - span },
    { u: u0 + 3 * span, v: v0 - span },
    { u: u0 - span, v: v0 + 3 * span },
  ];
}

/** Edges that belong to one of the triangles only. */
function rimOf(hit: readonly Circle[]): (readonly [number, number])[] {
  const edges = new Map<string, readonly [number, number]>();
  for (const { corners } of hit) {
    for (let k = 0; k < 3; k++) {
      const edge = [corners[k]!, corners[(k + 1) % 3]!] as const;
      const key = [...edge].sort((a, b) => a - b).join(" ");
      if (!edges.delete(key)) edges.set(key, edge);
    }
  }
  return [...edges.values()];
}

function circle(points: readonly Point[], corners: Triangle): Circle | undefined {
  const [a, b, c] = corners.map((corner) => points[corner]!) as [Point, Point, Point];
  const [bu, bv, cu, cv] = [b.u - a.u, b.v - a.v, c.u - a.u, c.v - a.v];
  const twice = 2 * (bu * cv - bv * cu);
  if (Math.abs(twice) <= 1e-9 * (Math.hypot(bu, bv) * Math.hypot(cu, cv))) return undefined;
  const [b2, c2] = [bu * bu + bv * bv, cu * cu + cv * cv];
  const [u, v] = [(cv * b2 - bv * c2) / twice, (bu * c2 - cu * b2) / twice];
  return { corners, u: a.u + u, v: a.v + v, radius2: u * u + v * v };
}

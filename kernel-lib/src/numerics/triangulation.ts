import { MeasurementError } from "../measurement-error.js";
import { inCircle, turn } from "./exact-sign.js";

export type Triangle = readonly [number, number, number];

interface Point {
  readonly u: number;
  readonly v: number;
}

/**
 * Delaunay triangulation of scattered places; empty when all are on one line. The triangles cover the convex hull of the
 * places, corners counter-clockwise, and no place lies inside the circle through the corners of a triangle: both hold
 * exactly, as the sign of every decision is exact. Of four places on one circle either diagonal will do.
 *
 * The places are taken from one side to the other; each is joined to the edges of the hull that it sees, and edges are
 * swapped until the net is Delaunay again (C. L. Lawson, "Software for C¹ surface interpolation", 1977).
 *
 * @throws MeasurementError `not-finite`, `same-place`
 */
export function triangulate(points: readonly Point[]): readonly Triangle[] {
  const order = inOrder(points);
  if (order.length < 3) return [];
  const net = new Net(points);
  let joined = net.start(order);
  while (joined < order.length) net.join(order[joined]!, order[joined++ - 1]!);
  return net.triangles();
}

/** indices by u, then by v */
function inOrder(points: readonly Point[]): readonly number[] {
  const off = points.findIndex(({ u, v }) => !Number.isFinite(u + v));
  if (off >= 0) {
    const { u, v } = points[off]!;
    throw new MeasurementError("not-finite", `triangulate: place ${off} is at u ${u}, v ${v}; give finite coordinates`);
  }
  const order = [...points.keys()].sort((i, j) => points[i]!.u - points[j]!.u || points[i]!.v - points[j]!.v || i - j);
  const double = order.findIndex((i, k) => k > 0 && isSameSpot(points[i]!, points[order[k - 1]!]!));
  if (double < 0) return order;
  const { u, v } = points[order[double]!]!;
  throw new MeasurementError(
    "same-place",
    `triangulate: places ${order[double - 1]} and ${order[double]} are both at u ${u}, v ${v}; give each spot once`,
  );
}

function isSameSpot(a: Point, b: Point): boolean {
  return a.u === b.u && a.v === b.v;
}

/** Triangles as half edges: edge 3t + k runs from corner k of triangle t to the next one, the triangle on its left. */
class Net {
  readonly #u: Float64Array;
  readonly #v: Float64Array;
  /** where a half edge starts */
  readonly #from: Int32Array;
  /** the half edge on the other side; −1 on the hull */
  readonly #twin: Int32Array;
  /** the hull counter-clockwise: the places after and before one, and the half edge that starts there */
  readonly #after: Int32Array;
  readonly #before: Int32Array;
  readonly #hullEdge: Int32Array;
  #edges = 0;

  constructor(points: readonly Point[]) {
    const n = points.length;
    this.#u = Float64Array.from(points, ({ u }) => u);
    this.#v = Float64Array.from(points, ({ v }) => v);
    this.#from = new Int32Array(6 * n);
    this.#twin = new Int32Array(6 * n);
    this.#after = new Int32Array(n);
    this.#before = new Int32Array(n);
    this.#hullEdge = new Int32Array(n);
  }

  /** A fan over the first places, as many as lie on one line, from the first that does not. @returns how many are joined */
  start(order: readonly number[]): number {
    const [first, second] = order as [number, number];
    const apexAt = order.findIndex((i, k) => k > 1 && this.#turn(first, second, i) !== 0);
    if (apexAt < 0) return order.length;
    const apex = order[apexAt]!;
    const line = order.slice(0, apexAt);
    if (this.#turn(first, second, apex) < 0) line.reverse();
    let last = -1;
    for (let k = 1; k < line.length; k++) {
      const edge = this.#add(line[k - 1]!, line[k]!, apex);
      if (last >= 0) this.#link(last + 1, edge + 2);
      last = edge;
    }
    for (let edge = 0; edge < this.#edges; edge++) {
      if (this.#twin[edge]! < 0) this.#hullEdge[this.#from[edge]!] = edge;
    }
    const rim = [...line, apex];
    rim.forEach((place, k) => {
      const next = rim[(k + 1) % rim.length]!;
      this.#after[place] = next;
      this.#before[next] = place;
    });
    return apexAt + 1;
  }

  /** Joins a place beyond all others to the hull, from the place joined last, which it sees. */
  join(place: number, last: number): void {
    const fresh: number[] = [];
    let [ahead, behind] = [last, last];
    /** open half edges from and to the new place */
    let [toPlace, fromPlace] = [-1, -1];
    while (this.#turn(ahead, this.#after[ahead]!, place) < 0) {
      const next = this.#after[ahead]!;
      const outer = this.#hullEdge[ahead]!;
      const edge = this.#add(next, ahead, place);
      this.#link(edge, outer);
      if (fromPlace >= 0) this.#link(edge + 1, fromPlace);
      else toPlace = edge + 1;
      fromPlace = edge + 2;
      fresh.push(edge);
      ahead = next;
    }
    while (this.#turn(this.#before[behind]!, behind, place) < 0) {
      const next = this.#before[behind]!;
      const outer = this.#hullEdge[next]!;
      const edge = this.#add(behind, next, place);
      this.#link(edge, outer);
      if (toPlace >= 0) this.#link(edge + 2, toPlace);
      else fromPlace = edge + 2;
      toPlace = edge + 1;
      fresh.push(edge);
      behind = next;
    }
    this.#after[behind] = place;
    this.#before[place] = behind;
    this.#after[place] = ahead;
    this.#before[ahead] = place;
    this.#hullEdge[behind] = toPlace;
    this.#hullEdge[place] = fromPlace;
    this.#swap(fresh);
  }

  triangles(): readonly Triangle[] {
    return Array.from({ length: this.#edges / 3 }, (_, t): Triangle => {
      return [this.#from[3 * t]!, this.#from[3 * t + 1]!, this.#from[3 * t + 2]!];
    });
  }

  #turn(a: number, b: number, c: number): number {
    const [u, v] = [this.#u, this.#v];
    return turn(u[a]!, v[a]!, u[b]!, v[b]!, u[c]!, v[c]!);
  }

  /** @returns the half edge from a to b */
  #add(a: number, b: number, c: number): number {
    const edge = this.#edges;
    this.#edges += 3;
    this.#from.set([a, b, c], edge);
    this.#twin.fill(-1, edge, edge + 3);
    return edge;
  }

  #link(edge: number, other: number): void {
    this.#twin[edge] = other;
    if (other < 0) this.#hullEdge[this.#from[edge]!] = edge;
    else this.#twin[other] = edge;
  }

  /** Swaps edges, each opposite the place joined last in its triangle, and those that a swap brings there. */
  #swap(edges: number[]): void {
    const from = this.#from;
    for (let edge = edges.pop(); edge !== undefined; edge = edges.pop()) {
      const other = this.#twin[edge]!;
      if (other < 0) continue;
      const [toApex, fromApex] = [nextOf(edge), nextOf(nextOf(edge))];
      const [toFar, fromFar] = [nextOf(other), nextOf(nextOf(other))];
      const [apex, far] = [from[fromApex]!, from[fromFar]!];
      if (!(this.#inCircle(from[edge]!, from[other]!, apex, far) > 0)) continue;
      from[toApex] = far;
      from[toFar] = apex;
      this.#link(edge, this.#twin[toFar]!);
      this.#link(other, this.#twin[toApex]!);
      this.#link(toApex, toFar);
      edges.push(edge, fromFar);
    }
  }

  #inCircle(a: number, b: number, c: number, d: number): number {
    const [u, v] = [this.#u, this.#v];
    return inCircle([u[a]!, v[a]!, u[b]!, v[b]!, u[c]!, v[c]!, u[d]!, v[d]!]);
  }
}

function nextOf(edge: number): number {
  return edge % 3 === 2 ? edge - 2 : edge + 1;
}

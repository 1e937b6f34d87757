import type { PlannedGrid, PlannedPlace } from "./plan-places.js";

/** One reading to take. */
export interface PlannedReading extends PlannedPlace {
  readonly order: number;
  readonly pass: number;
  /** which visit to the datums it belongs to; missing at a place of the map */
  readonly visit?: number;
}

export interface OrderTerms {
  readonly passes: number;
  readonly datumPlaces: 2 | 3;
  /** readings between two returns to the datums, at most */
  readonly returnEvery: number;
  readonly readingsAtDatum: number;
}

/**
 * The order of reading: row by row, each next one back again, every second pass the same way backwards, so that a steady
 * drift is the same in all means of two passes. The datums are visited first, last, and every so many readings.
 */
export function planOrder(
  grid: PlannedGrid,
  datums: readonly PlannedPlace[],
  terms: OrderTerms,
): readonly PlannedReading[] {
  const path = grid.rows.filter((row) => row.length > 0).flatMap((row, i) => (i % 2 === 0 ? row : [...row].reverse()));
  const gaps = Math.ceil(path.length / terms.returnEvery);
  const returns = new Set(Array.from({ length: gaps }, (_, k) => Math.round(((k + 1) * path.length) / gaps)));
  const list: PlannedReading[] = [];
  let visit = 0;
  const visitDatums = (pass: number) => {
    visit++;
    for (const datum of datums) {
      for (let r = 0; r < terms.readingsAtDatum; r++) list.push({ ...datum, pass, visit, order: list.length + 1 });
    }
  };
  visitDatums(1);
  for (let pass = 1; pass <= terms.passes; pass++) {
    const way = pass % 2 === 1 ? path : [...path].reverse();
    way.forEach((place, i) => {
      list.push({ ...place, pass, order: list.length + 1 });
      if (returns.has(i + 1)) visitDatums(pass);
    });
  }
  return list;
}

/** Datum places: places of the map, of which there are more, far apart, not on one line where there are three. */
export function chooseDatums(grid: PlannedGrid, count: 2 | 3): readonly PlannedPlace[] {
  const all = grid.rows.flat();
  const span = (values: readonly number[]) => [values[0]!, values[values.length - 1]! - values[0]!] as const;
  const [[x0, width], [y0, depth]] = [span(grid.x), span(grid.y)];
  const targets =
    count === 2
      ? [
          [0.2, 0.75],
          [0.8, 0.25],
        ]
      : [
          [0.15, 0.2],
          [0.85, 0.35],
          [0.4, 0.85],
        ];
  const chosen: PlannedPlace[] = [];
  for (const [u, v] of targets as [number, number][]) {
    const far = (p: PlannedPlace) => Math.hypot((p.xMm - x0) / width - u, (p.yMm - y0) / depth - v);
    const free = all.filter((p) => !chosen.some((c) => c.xMm === p.xMm && c.yMm === p.yMm));
    const best = free.reduce((a, b) => (far(b) < far(a) ? b : a));
    chosen.push({ ...best, label: `datum ${chosen.length + 1}` });
  }
  return chosen;
}

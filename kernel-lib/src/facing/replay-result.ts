import { um } from "../quantity/index.js";
import type { Surface, SurfacePlace } from "../survey/surface.js";
import type { ReplayShop } from "./replay-shop.js";
import type { Stock } from "./replay-stock.js";

/** How much of the plate the rim came over, 0 to 1. */
export interface Coverage {
  /** share of the plate that both edges of the rim passed at the last depth */
  readonly covered: number;
  /** share of the plate that was probed; nothing outside is called clean */
  readonly probed: number;
  /** share of the probed part where the cut went below what was found */
  readonly cleaned: number;
  /** where the rim did not come, in words; empty where it came everywhere */
  readonly uncoveredText: string;
}

/** Passes run clear at both ends, so what the rim comes over is exact across the feed: strips a diameter wide, joined. */
export function coverage(stock: Stock, shop: ReplayShop, lanesMm: readonly number[]): Coverage {
  const gaps = gapsBetween(shop, lanesMm);
  const [from, to] = sideAcross(shop);
  const missed = gaps.reduce((sum, [low, high]) => sum + high - low, 0);
  const { probed, cleaned } = cleanedShare(stock);
  return { covered: 1 - missed / (to - from), probed, cleaned, uncoveredText: gapText(gaps, shop) };
}

function sideAcross({ feedAlong, plate }: ReplayShop): readonly [from: number, to: number] {
  return feedAlong === "x" ? plate.y : plate.x;
}

function gapsBetween(shop: ReplayShop, lanesMm: readonly number[]): readonly (readonly [from: number, to: number])[] {
  const [from, to] = sideAcross(shop);
  const gaps: [number, number][] = [];
  let reached = from;
  for (const lane of [...lanesMm.toSorted((a, b) => a - b), Number.POSITIVE_INFINITY]) {
    const next = Math.min(lane - shop.radiusMm, to);
    if (next > reached + shop.digitMm) gaps.push([reached, next]);
    reached = Math.max(reached, lane + shop.radiusMm);
  }
  return gaps;
}

function gapText(gaps: readonly (readonly [number, number])[], { feedAlong }: ReplayShop): string {
  if (gaps.length === 0) return "";
  const axis = feedAlong === "x" ? "y" : "x";
  const strips = gaps.map(([low, high]) =>
    `${axis} ${low.toFixed(1)} mm to ${high.toFixed(1)} mm`.replaceAll("-", "−"),
  );
  const shown = strips.length > 5 ? `${strips.length} strips` : strips.join(", ");
  return `the rim does not come over ${shown} at the last depth`;
}

function cleanedShare({ isProbed, heightMm, foundMm }: Stock): Pick<Coverage, "probed" | "cleaned"> {
  let [probed, cleaned] = [0, 0];
  for (let cell = 0; cell < isProbed.length; cell++) {
    if (isProbed[cell] === 0) continue;
    probed++;
    if (heightMm[cell]! < foundMm[cell]!) cleaned++;
  }
  return { probed: probed / isProbed.length, cleaned: probed > 0 ? cleaned / probed : 0 };
}

const mostAlong = 25;
const mostAcross = 121;

/** The faced top over the last planned depth. Across the feed the ridges are followed closely; along it nothing changes
 * but at places that were not cut. */
export function facedSurface(
  stock: Stock,
  shop: ReplayShop,
  found: Surface,
  name: string,
): { readonly surface: Surface; readonly textureUm: number; readonly ridgesUm: number } {
  const { along, across, heightMm } = stock;
  const levelMm = shop.levelsMm.at(-1)!;
  const columns = thinned(along.length, mostAlong);
  const rows = thinned(across.length, mostAcross);
  const places = rows.flatMap((j) =>
    columns.map((i): SurfacePlace => {
      const [xMm, yMm] = shop.feedAlong === "x" ? [along[i]!, across[j]!] : [across[j]!, along[i]!];
      const zUm = 1000 * (heightMm[j * along.length + i]! - levelMm);
      return { label: `x ${xMm}, y ${yMm}`, xMm, yMm, zUm: Math.round(zUm * 1000) / 1000, count: 1 };
    }),
  );
  return {
    textureUm: peakToValleyUm(stock, 0),
    // within two radii of the side edges a lean across the feed leaves a strip that no further pass cuts down
    ridgesUm: peakToValleyUm(stock, 2 * shop.radiusMm),
    surface: {
      name: `${name}, as replayed`,
      frame: found.frame,
      gauge: { name: "replay, no gauge", resolution: um(0.1), maximumPermissibleError: um(0) },
      places,
      noise: { standardUncertaintyUm: 0, degreesOfFreedom: Number.POSITIVE_INFINITY, source: "calculated, not probed" },
    },
  };
}

/** over the cells that the last depth cut, so far from the side edges */
function peakToValleyUm({ across, along, heightMm, foundMm, isSwept }: Stock, fromEdgeMm: number): number {
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let cell = 0; cell < heightMm.length; cell++) {
    const z = heightMm[cell]!;
    const t = across[Math.floor(cell / along.length)]!;
    const isInside = t >= across[0]! + fromEdgeMm && t <= across.at(-1)! - fromEdgeMm;
    if (!isInside || isSwept[cell] === 0 || z === foundMm[cell]) continue;
    low = Math.min(low, z);
    high = Math.max(high, z);
  }
  return high >= low ? 1000 * (high - low) : 0;
}

/** the middle first: of equal heights the one that is marked then stands clear of the edges */
function thinned(count: number, most: number): number[] {
  const kept = Math.min(count, most);
  const picked = Array.from({ length: kept }, (_, k) => Math.round((k * (count - 1)) / (kept - 1)));
  return picked.toSorted((a, b) => Math.abs(a - count / 2) - Math.abs(b - count / 2));
}

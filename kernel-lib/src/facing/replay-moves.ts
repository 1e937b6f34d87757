/** A place of the cutter's tip: x and y in the coordinates of the map, z over Z0. */
export interface ToolSpot {
  readonly xMm: number;
  readonly yMm: number;
  readonly zMm: number;
}

/** One movement of the program. What is not known before the first moves is absent. */
export interface ReplayMove {
  readonly line: number;
  readonly kind: "rapid" | "feed";
  readonly from: Partial<ToolSpot>;
  readonly to: Partial<ToolSpot>;
  /** mm/min; 0 in a rapid */
  readonly feedMmPerMin: number;
}

/** A movement whose ends are known. */
export interface KnownMove extends ReplayMove {
  readonly from: ToolSpot;
  readonly to: ToolSpot;
}

/** The same move where both its ends are known on all three axes. */
export function knownMove(move: ReplayMove): KnownMove | undefined {
  const { from, to } = move;
  return isSpot(from) && isSpot(to) ? { ...move, from, to } : undefined;
}

function isSpot(spot: Partial<ToolSpot>): spot is ToolSpot {
  return spot.xMm !== undefined && spot.yMm !== undefined && spot.zMm !== undefined;
}

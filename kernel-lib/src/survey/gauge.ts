import type { Length } from "../quantity/index.js";

/** An indicator as its owner knows it. (Grows fields as the survey folder grows.) */
export interface Gauge {
  readonly name: string;
  readonly resolution: Length;
  /** maximum permissible error over the range used, ± */
  readonly maximumPermissibleError: Length;
}

import { MeasurementError } from "../measurement-error.js";
import { type Difference, type Kind, Quantity, type UnitSystem } from "../quantity/index.js";
import { withArticle } from "../words.js";

/** What was known of the true value before it was measured: normal, from earlier pieces or earlier surveys. */
export interface TrueValueLaw<K extends Kind> {
  readonly mean: Quantity<K>;
  readonly standardDeviation: Quantity<Difference<K>>;
  /** where it comes from: "40 plates faced this year"; printed with every risk */
  readonly source: string;
}

/** "normal about 12 µm with standard deviation 4 µm (40 plates faced this year)" */
export function trueValueText<K extends Kind>(law: TrueValueLaw<K>, system?: UnitSystem): string {
  const spread = law.standardDeviation as Quantity<Kind>;
  return `law for the true value: normal about ${law.mean.text(system)} with standard deviation ${spread.text(system)} (${law.source})`;
}

/** @throws MeasurementError `true-value` */
export function checkTrueValue<K extends Kind>(where: string, kind: K, law: TrueValueLaw<K>): void {
  const spread = law?.standardDeviation as Quantity<Kind> | undefined;
  const refuse = (what: string): never => {
    throw new MeasurementError("true-value", `${where}: ${what}`);
  };
  if (!(law?.mean instanceof Quantity && law.mean.kind === kind)) {
    refuse(
      `a risk needs a law for the true value with the mean as ${withArticle(kind)}; give it, or use conformanceProbability`,
    );
  }
  const expected = kind === "temperature" ? "temperature difference" : kind;
  if (!(spread instanceof Quantity && spread.kind === expected && spread.si > 0)) {
    refuse(
      `the law for the true value has the standard deviation ${String(spread)}; give ${withArticle(expected)} above zero`,
    );
  }
  if (typeof law.source !== "string" || law.source.trim() === "") {
    refuse("the law for the true value has no source; say where it comes from, it decides the figure");
  }
}

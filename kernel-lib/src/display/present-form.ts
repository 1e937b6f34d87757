import { residualMap } from "../figure/residuals.js";
import type { Flatness } from "../form/flatness.js";
import type { Length } from "../quantity/quantity.js";
import { stackPresenter } from "./present.js";
import { type Table, table } from "./table.js";

/** The sentence, the map of what is left when the tilt is taken out, and the figures. */
export const presentFlatness = stackPresenter<Flatness>((flatness) => [
  `${flatness.title}: ${flatness.overall}`,
  residualMap(flatness),
  flatnessTable(flatness),
]);

function flatnessTable(flatness: Flatness): Table {
  const { highest, lowest, peakToValley, minimumZone } = flatness;
  return table({
    caption: `Form of ${flatness.surface.name}, ${flatness.relative}`,
    columns: [
      { heading: "figure", align: "left" },
      { heading: "value", align: "left" },
      { heading: "how found", align: "left" },
    ],
    rows: [
      ["peak to valley (FLTt)", flatness.overall.text(), correction(peakToValley)],
      ["minimum zone", minimumZone.corrected.text(), correction(minimumZone)],
      ["reference plane to peak (FLTp)", um1(flatness.FLTp), "as read, least-squares plane"],
      ["reference plane to valley (FLTv)", um1(flatness.FLTv), "as read, least-squares plane"],
      ["root mean square (FLTq)", um1(flatness.FLTq), "as read, least-squares plane"],
      ["tilt along x", flatness.tiltX.text(), "slope of the least-squares plane, positive where it rises with x"],
      ["tilt along y", flatness.tiltY.text(), "slope of the least-squares plane, positive where it rises with y"],
      ["highest place", highest.label, `${highest.where}, ${um1(highest)} above the plane`],
      ["lowest place", lowest.label, `${lowest.where}, ${um1(lowest)} from the plane`],
    ],
    notes: [
      `at the ${flatness.surface.places.length} places probed: a lower bound for what lies between them`,
      "distances along z; ISO 12781-1 names; a verdict takes the minimum zone (ISO 1101)",
    ],
  });
}

function correction({ raw, bias }: { readonly raw: Length; readonly bias: Length }): string {
  return `${um1(raw)} as read, less ${um1(bias)} that the noise of the readings adds`;
}

function um1(value: Length | { readonly residualUm: number }): string {
  const um = "residualUm" in value ? value.residualUm : value.in("um");
  return `${um.toFixed(1).replace("-", "−")} µm`;
}

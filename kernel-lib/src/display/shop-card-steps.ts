import type { CardFacts } from "./shop-card.js";

/** What is done and checked at the machine, in order. */
export function cardSteps({ holdDown, cut, bedding }: CardFacts): readonly string[] {
  const { plate, rounds } = holdDown;
  const [first, last] = [plate.screws[0]!.label, plate.screws.at(-1)!.label];
  const torques = rounds.map((torque) => torque.in("N.m").toFixed(1)).join(", ");
  const shims = (bedding?.screws ?? []).flatMap(({ screw, shim }) =>
    shim ? [`${screw.label} ${shim.in("um").toFixed(0)} µm`] : [],
  );
  return [
    "Clean table, slots and underside; stone burrs; wipe. Solvent: ventilate, no flame.",
    `Plate on, ${plate.mass.in("kg").toFixed(1)} kg, with help where heavy; keys or dowels; mark FRONT on it.`,
    shims.length > 0
      ? `Prove the gaps with feelers; shim, do not pull: ${shims.slice(0, 8).join(", ")}${shims.length > 8 ? ` and ${shims.length - 8} more` : ""}.`
      : "Rock test and feelers all round: where a gap is above 20 µm shim, do not pull.",
    `Screws ${first} to ${last}, middle outward, three rounds: ${torques} N·m; an indicator beside each screw, note what it moves.`,
    "Second person checks workholding and that every head lies below the cut.",
    "Pencil grid over the whole top.",
    "Indicator, arm, drawbar spanner off; dry run above the work; warm up at cutting speed until two readings half an hour apart agree.",
    `Rough ${cut.roughDepth.in("mm").toFixed(2)} mm; stop at a spark or a bright ring. Wait until it is cool.`,
    `Finish ${cut.finishDepth.in("mm").toFixed(2)} mm, one way, return above the work, idle axes locked. Grid all gone = cleaned up.`,
    "Isolate the spindle. Deburr edges and counterbores, wash, let it soak to one temperature.",
    "Survey again before a screw is touched.",
    `Release, tighten again to ${torques} N·m, survey a third time: what off-and-on costs.`,
  ];
}

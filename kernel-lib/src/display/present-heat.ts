import { warmUpCautions } from "../facing/cautions.js";
import { bowProfile } from "../figure/bow-profile.js";
import { settlingCurve } from "../figure/settling-curve.js";
import type {
  BoltedPair,
  Joint,
  Material,
  Materials,
  Settling,
  SettlingKind,
  Wait,
  WarmthBow,
  WarmthCorrection,
  WarmUp,
} from "../heat/index.js";
import type { Time } from "../quantity/index.js";
import { printDecimals } from "../quantity/print.js";
import { caution } from "./caution.js";
import { figureBundle } from "./figure-bundle.js";
import { sentencePresenter, stackPresenter, tablePresenter } from "./present.js";
import { type Table, table } from "./table.js";

const whileWarmingUp = () => caution("while the spindle warms up", warmUpCautions);

export const presentMaterial = sentencePresenter<Material>();

/** One row a material. */
export const presentMaterials = tablePresenter<Materials>((materials) =>
  table({
    caption: "Expansion near room temperature",
    columns: [
      { heading: "material", align: "left" },
      { heading: "expansion", unit: "µm/(m·K)", align: "right" },
      { heading: "standard uncertainty", unit: "µm/(m·K)", align: "right" },
      { heading: "modulus", unit: "GPa", align: "right" },
      { heading: "from", align: "left" },
    ],
    rows: materials
      .toArray()
      .map(({ name, expansion, modulus }) => [
        name,
        expansion.estimate.in("um/(m.K)").toFixed(1),
        expansion.standardUncertainty.in("um/(m.K)").toFixed(2),
        modulus ? modulus.estimate.in("GPa").toFixed(0) : "–",
        expansion.source,
      ]),
    notes: ["limits are rectangular: u = half-width / √3; a certificate of the bar in hand is better"],
  }),
);

/** Cautions, the curve in one line, the picture, the figures with their uncertainty. */
export const presentSettling = stackPresenter<Settling<SettlingKind>>(
  (found) => [whileWarmingUp(), found.toString(), figureBundle(settlingCurve(found)), settlingTable(found)],
  ({ name }) => [name],
);

function settlingTable(found: Settling<SettlingKind>): Table {
  const names = found.timeConstants.length > 1 ? ["quick time constant", "slow time constant"] : ["time constant"];
  return table({
    caption: `${found.name}: figures of the curve`,
    columns: [
      { heading: "figure", align: "left" },
      { heading: "value", align: "left" },
      { heading: "standard error", align: "left" },
    ],
    rows: [
      ...found.timeConstants.map((tau, k) => [
        names[k]!,
        tau.text("min"),
        `${tau.standardUncertainty.in("min").toPrecision(2)} min`,
      ]),
      ["whole change", found.total.text(), found.total.standardUncertainty.textTo(found.total.standardUncertainty)],
      [
        "still to come at the last reading",
        found.remaining.text(),
        found.remaining.standardUncertainty.textTo(found.remaining.standardUncertainty),
      ],
      ["scatter of one reading", found.scatter.textTo(found.scatter), `${found.degreesOfFreedom} degrees of freedom`],
    ],
    notes: found.notes,
  });
}

/** Cautions and the sentence. */
export const presentWait = stackPresenter<Wait>(
  (wait) => [whileWarmingUp(), wait.toString()],
  ({ name }) => [name],
);

export const presentJoint = sentencePresenter<Joint>();

/** The two ends in one line, the picture, the figures. */
export const presentBoltedPair = stackPresenter<BoltedPair>((pair) => [
  pair.toString(),
  figureBundle(bowProfile(pair)),
  pairTable(pair),
]);

function pairTable(pair: BoltedPair): Table {
  const { upper, lower } = pair.spec;
  return table({
    caption: `${upper.material.name} bolted to ${lower.material.name}`,
    columns: [
      { heading: "figure", align: "left" },
      { heading: "value", align: "left" },
      { heading: "when", align: "left" },
    ],
    rows: [
      ["difference in length", pair.differentialLength.text("um"), "the joint slips"],
      ["bow", pair.bondedBow.text("um"), "nothing slips, free to bow; positive: the middle stands high"],
      ["bow per kelvin", pair.bondedBowPerKelvin.text("um/K"), "nothing slips, free to bow"],
      ["force in the joint", pair.forceFree.text("kN"), "nothing slips, free to bow"],
      ["force in the joint", pair.forceFlat.text("kN"), "nothing slips, held flat"],
      ...(pair.joint ? [["friction carries", pair.joint.capacity.text("kN"), pair.joint.state]] : []),
    ],
    notes: [
      "two layers bonded over their whole length, evenly warm (Timoshenko, 1925); a force is what friction has to carry on each half, without a sign",
    ],
  });
}

/** Cautions, what was read, a row a moment. */
export const presentWarmUp = stackPresenter<WarmUp>(
  (record) => [whileWarmingUp(), record.toString(), recordTable(record)],
  ({ name, growths, thermometers }) => [name, ...growths, ...thermometers],
);

function recordTable(record: WarmUp): Table {
  const columns = record.columns();
  const moments = [...new Set(columns.flatMap(({ minute }) => minute))].sort((a, b) => a - b);
  return table({
    caption: `What was read, from the first row on`,
    columns: [
      { heading: "time", unit: "min" },
      ...columns.map(({ name, kind }) => ({ heading: name, unit: kind === "growth" ? "µm" : "°C" })),
    ],
    rows: moments.map((moment) => [
      printDecimals(moment, Number.isInteger(moment) ? 0 : 1),
      ...columns.map(({ minute, value }) => {
        const at = minute.indexOf(moment);
        return at < 0 ? "–" : printDecimals(value[at]!, 1);
      }),
    ]),
    notes: record.notes,
  });
}

/** What was taken out, pass by pass from its first reading to its last. */
export const presentWarmthCorrection = stackPresenter<WarmthCorrection>(
  (found) => [whileWarmingUp(), found.toString(), correctionTable(found)],
  ({ spec }) => [spec.survey.name, spec.curve.name],
);

function correctionTable(found: WarmthCorrection): Table {
  const readings = found.toArray();
  const passes = [...new Set(readings.map(({ pass }) => pass))];
  const since = (time: Time) => printDecimals(time.in("min") - readings[0]!.time.in("min"), 0);
  return table({
    caption: "Growth since the first reading of the survey",
    columns: [
      { heading: "pass", align: "left" },
      { heading: "place", align: "left", asWritten: true },
      { heading: "time since the first reading", unit: "min" },
      { heading: "growth", align: "left" },
    ],
    rows: passes.flatMap((pass) => {
      const own = readings.filter((reading) => reading.pass === pass);
      return [own[0]!, own[own.length >> 1]!, own.at(-1)!].map(({ place, time, growth }) => [
        String(pass),
        place,
        since(time),
        growth.text("um"),
      ]);
    }),
    notes: found.notes,
  });
}

export const presentWarmthBow = stackPresenter<WarmthBow>((found) => [
  found.toString(),
  table({
    caption: "Bow found and bow that warmth makes",
    columns: [
      { heading: "figure", align: "left" },
      { heading: "value", align: "left" },
    ],
    rows: [
      ["bow found", found.found.text("um")],
      ["top less underside", found.difference.text("K")],
      ["bow that this makes in a free part", found.possible.text("um")],
      ["left when it is taken out", found.left.text("um")],
      ["difference that all of it would need", found.needed.text("K")],
    ],
    notes: ["positive: the middle stands high; a difference even along the length, a part free to bow"],
  }),
]);

import { bandText, timeText } from "../facing/conditions-result.js";
import type { CuttingConditions, FacedPlate } from "../facing/index.js";
import { caution } from "./caution.js";
import { type Part, stackPresenter } from "./present.js";
import { type Table, table } from "./table.js";

/** Cautions first, whether it suits, then what to set and what it comes to. */
export const presentConditions = stackPresenter<CuttingConditions>(
  (conditions) => [
    caution("before and while the plate is cut", conditions.cautions),
    conditions.toString(),
    settings(conditions),
    outcome(conditions),
  ],
  ({ facts }) => [facts.job.name],
);

function settings({ facts, cuttingSpeed, roughDepth, finishDepth, warmUpWait }: CuttingConditions): Table {
  const { job, program, speedRange, engagement } = facts;
  const range = [speedRange.low, speedRange.high].map((speed) => speed.in("m/min").toFixed(0));
  return table({
    caption: `What to set, ${job.name}`,
    columns: [
      { heading: "what", align: "left" },
      { heading: "value", align: "left" },
    ],
    rows: [
      [
        "cutter",
        `${job.cutter.diameter.text("mm")}, ${job.cutter.teeth === 1 ? "1 tooth" : `${job.cutter.teeth} teeth`}, ${facts.edge}`,
      ],
      ["speed", `${job.speed.in("1/min").toFixed(0)} 1/min`],
      ["cutting speed", `${cuttingSpeed.in("m/min").toFixed(0)} m/min`],
      ["usual cutting speed", `${range[0]} m/min to ${range[1]} m/min`],
      ["feed per tooth", `${job.feedPerTooth.in("mm").toFixed(3)} mm`],
      ["mean chip, widest pass", `${engagement.meanChip.in("mm").toFixed(3)} mm`],
      ["feed", `${program.feed.in("mm/min").toFixed(0)} mm/min`],
      ["step-over, widest", `${program.rounds[0]!.stepOver.in("mm").toFixed(1)} mm`],
      ["passes, all rounds", String(program.rounds.reduce((sum, { lanes }) => sum + lanes, 0))],
      ["rough", `${roughDepth.in("mm").toFixed(3)} mm`],
      ["finish", `${finishDepth.in("mm").toFixed(3)} mm`],
      [
        "direction",
        facts.climbing.isAllowed && job.milling === "climb"
          ? "climb, play below the feed per tooth"
          : "conventional, one way, return above the work",
      ],
      ["warm-up at cutting speed", warmUpWait ? `${Math.ceil(warmUpWait.in("min"))} min, 95 % sure` : "not known"],
    ],
  });
}

function outcome({ facts, notes }: CuttingConditions): Table {
  const { force, lift, greatestToothForce, power, motor, deflection, copiedShare, copied, time } = facts;
  return table({
    caption: "What the cut comes to",
    columns: [
      { heading: "what", align: "left" },
      { heading: "value", align: "left" },
    ],
    rows: [
      ["cutting force while a tooth cuts", force.text("N")],
      ["upward share of it", lift.text("N")],
      ["force of a tooth at its thickest chip", `${greatestToothForce.in("N").toFixed(0)} N`],
      ["power from the motor", `${power.text("W")}`],
      ["motor", `${motor.power.in("W").toFixed(0)} W`],
      ["deflection in the last round, 95 %", bandText(deflection, "um", 1)],
      ["share of the old form left, 95 %", bandText(copiedShare, "%", 2)],
      ["old form left in the finish, 95 %", bandText(copied, "um", 1)],
      ["time with rapids and stops", timeText(time)],
    ],
    notes: [...notes],
  });
}

/** Both predictions together, always, and the budget of each. */
export const presentFacedPlate = stackPresenter<FacedPlate>(
  (plate): readonly Part[] => [
    plate.toString(),
    table({
      caption: `Two predictions, ${plate.name}, peak to valley`,
      columns: [
        { heading: "seen by", align: "left" },
        { heading: "at most", align: "left" },
      ],
      rows: [
        ["this machine", plate.asThisMachineSees.text("um")],
        ["a straightedge", plate.straightedgeText],
      ],
      notes: [
        "peaks to valleys are added up; forms that stand against each other leave the plate flatter",
        "read by the machine that cut it, a plate proves parallelism with the travel, not flatness",
      ],
    }),
    plate.asThisMachineSees,
    plate.asStraightedgeSees,
  ],
  ({ name }) => [name],
);

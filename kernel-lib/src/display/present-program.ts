import type { CuttingProgram } from "../facing/program.js";
import type { Replay, ReplayedCut } from "../facing/replay.js";
import { facedMap, programPath } from "../figure/index.js";
import { caution } from "./caution.js";
import { Listing } from "./listing.js";
import { stackPresenter } from "./present.js";
import { type Table, table } from "./table.js";

/** Cautions first, then the rounds and the text with its line numbers. */
export const presentProgram = stackPresenter<CuttingProgram>((program) => [
  caution("before and while the plate is cut", program.cautions),
  program.toString(),
  table({
    caption: "Rounds of the program",
    columns: [
      { heading: "round", align: "left" },
      { heading: "below Z0", unit: "mm", align: "right" },
      { heading: "passes", align: "right" },
      { heading: "widest step-over", unit: "mm", align: "right" },
      { heading: "feed", unit: "mm/min", align: "right" },
    ],
    rows: program.rounds.map(({ depth, lanes, stepOver }, i) => [
      String(i + 1),
      depth.in("mm").toFixed(3),
      String(lanes),
      stepOver.in("mm").toFixed(2),
      program.feed.in("mm/min").toFixed(0),
    ]),
  }),
  new Listing(`${program.name}: ${program.lineCount} lines`, program.text),
]);

/** Cautions first; what was refused, or what was proven and what the cut leaves. */
export const presentReplay = stackPresenter<Replay>((replay) => [
  caution("before and while the plate is cut", replay.cautions),
  replay.toString(),
  replay.refusals.length > 0 ? refusalTable(replay) : undefined,
  replay.cut && replay.passes ? cutTable(replay, replay.cut) : undefined,
  programPath(replay),
  replay.cut && replay.passes ? facedMap(replay) : undefined,
]);

const mostRefusals = 20;

function refusalTable({ refusals }: Replay): Table {
  const more = refusals.length - mostRefusals;
  return table({
    caption: "Refused: do not run this program",
    columns: [
      { heading: "line", align: "right" },
      { heading: "what is wrong there", align: "left" },
    ],
    rows: refusals.slice(0, mostRefusals).map(({ line, sentence }) => [String(line), sentence]),
    ...(more > 0 ? { notes: [`and ${more} more`] } : {}),
  });
}

function cutTable({ time }: Replay, cut: ReplayedCut): Table {
  const percent = (share: number) => `${(100 * share).toFixed(1)} %`;
  return table({
    caption: "What the replayed cut comes to",
    columns: [
      { heading: "what", align: "left" },
      { heading: "value", align: "left" },
    ],
    rows: [
      ["plate under both edges of the rim at the last depth", percent(cut.covered)],
      ["plate that was probed", percent(cut.probed)],
      ["of the probed part, cut below what was found", percent(cut.cleaned)],
      ["volume taken away", `${cut.volume.in("cm3").toFixed(1)} cm³`],
      ["texture, peak to valley, from the tilt given", `${cut.texture.in("um").toFixed(1)} µm`],
      ["ridges, a cutter's diameter and more from the side edges", `${cut.ridges.in("um").toFixed(1)} µm`],
      ["time feeding and waiting", `${time.in("min").toFixed(0)} min`],
    ],
    notes: [
      "a lean across the feed leaves a strip at one side edge high, as no further pass cuts it down",
      `grid of ${cut.pitch.in("mm").toFixed(2)} mm; no deflection, heat or gauge is in the texture`,
      "proven on paper only: dry run above the work, first pass in single block",
    ],
  });
}

import { inspect } from "node:util";
import { expect, it } from "vitest";
import { Bedding } from "../../kernel-lib/src/facing/bedding.js";
import * as facing from "../../kernel-lib/src/facing/index.js";
import { mm, mmPerMin, newtonMetre, perMin, um, umPerM } from "../../kernel-lib/src/quantity/index.js";
import { input } from "../../kernel-lib/src/uncertainty/index.js";
import { aJob, aTop } from "./a-job.js";
import { aMap } from "./a-map.js";
import { aHoldDown, aPlate } from "./a-plate.js";
import { aFacedPlate, someConditions } from "./some-conditions.js";

const job = aJob();
const map = aMap((x) => (x - 20) / 10);
const none = (label: string) => input.rectangular({ label, estimate: mm(0), halfWidth: mm(0.01) });
const middle = { middle: um(3), low: um(2), high: um(4) };
const classes: { readonly [name: string]: () => object } = {
  depth: () => facing.depth(map, { draws: 100 }),
  reach: () =>
    facing.reach(map, {
      travel: facing.area(mm(0), mm(520), mm(0), mm(235)),
      area: facing.area(mm(40), mm(480), mm(30), mm(210)),
      cutterRadius: mm(25),
      runOut: mm(3),
      feedAlong: "x",
    }),
  ridges: () =>
    facing.ridges({ cutterRadius: mm(25), stepOver: mm(30), tiltAlongFeed: umPerM(100), tiltAcrossFeed: umPerM(0) }),
  pass: () =>
    facing.pass({
      lengthAlongFeed: mm(460),
      widthAcrossFeed: mm(200),
      cutterDiameter: mm(50),
      stepOver: mm(30),
      spindleSpeed: perMin(600),
      teeth: 1,
      feedPerTooth: mm(0.1),
      runOut: mm(3),
      returnFeed: mmPerMin(600),
    }),
  plate: () => aPlate(),
  preload: () =>
    facing.preload({ thread: "M10", propertyClass: "8.8", friction: [0.1, 0.16], wrench: 0.06 }, newtonMetre(30)),
  holdDown: () => aHoldDown(),
  program: () => facing.program(job),
  replay: () => facing.replay(facing.program(job).text, job, aTop(job), { pitch: mm(5) }),
  conditions: () => facing.cuttingConditions(someConditions()),
  facedPlate: () => aFacedPlate(),
  screwClearance: () =>
    facing.screwClearance({
      thread: "M10",
      leastCounterboreDepth: mm(12),
      plateThickness: mm(25),
      webNeeded: mm(8),
      margin: mm(0.5),
      screws: [{ label: "S1", cut: mm(0.4) }],
      doubts: { touchOff: none("a"), toolLength: none("b"), lockShift: none("c"), deflection: none("d") },
    }),
  bedding: () =>
    new Bedding(map, aHoldDown(), {
      xMm: [60, 460],
      yMm: [30, 210],
      looseGapMm: [0, 0.01],
      tightGapMm: [0, 0],
      releasedMm: [0, 0],
      closed: 1,
      springBack: middle,
      offAndOn: middle,
      screws: [],
      causes: [],
    }),
};

it.each(Object.keys(classes))(
  "a result of %s says the same in a console as in a text, and can't be changed",
  (name) => {
    const result = classes[name]!();
    expect(String(result).length).toBeGreaterThan(40);
    expect(inspect(result)).toBe(String(result));
    expect(Object.isFrozen(result)).toBe(true);
  },
);

const deferring =
  "The machine maker's manual, your local rules and a competent person come before anything printed here; where they differ, they are right.";
const isolation =
  "Isolate the spindle before you reach in or measure: plug out, or main switch locked; an emergency stop is not isolation.";

// read through as by someone who stands at the machine: nothing less may be printed
it.each<[string, readonly string[], readonly string[]]>([
  [
    "measuringCautions",
    facing.measuringCautions,
    [
      isolation,
      "Turn the spindle by hand only, in neutral; take the indicator, its arm and the drawbar spanner off before power comes back.",
      "Hands out of the way while a powered axis moves: single steps, slow feed, the stop in reach.",
    ],
  ],
  [
    "axisTestCautions",
    facing.axisTestCautions,
    [
      "Spindle isolated, tool and drawbar spanner out.",
      "The axis moves under power: hands out while it moves, single steps, the stop in reach, travel limits proven first.",
    ],
  ],
  [
    "pulledHeadCautions",
    facing.pulledHeadCautions,
    [
      "Spindle isolated, tool and drawbar spanner out; a soft pad on the table under the nose.",
      "Pull by rated lifting gear with a scale in it, at the lifting point that the maker gives; never above what gear and point are marked for.",
      "A second competent person at the gear; nobody and no hand under the head or in line with the sling.",
      "The axis moves under power: hands out while it moves, single steps, the stop in reach, travel limits proven first.",
      "Let the pull go slowly: the head drops by its play.",
    ],
  ],
  [
    "warmUpCautions",
    facing.warmUpCautions,
    [
      "No indicator, arm or spanner in or at the spindle while it turns: stop it, isolate it, read, take everything off, then start again.",
      isolation,
      "Guards shut and nobody in reach while it runs; warm parts may burn.",
    ],
  ],
  [
    "cutCautions",
    facing.cutCautions,
    [
      isolation,
      "Drawbar spanner, indicator and arm off before power; eyes protected, no gloves, no rags, sleeves and hair tied back.",
      "Fly cutter: stay below its marked speed, balanced, guarded, nobody in its plane.",
      "Steel screw heads and nuts lie under soft plate: stop at a spark, a bright ring or a change of sound.",
      "Dry run above the work first; first pass in single block, a hand on feed hold; stay with the machine.",
      "Chips by brush with the spindle stopped; no air line; keep chips and cutting fluid out of the counterbores.",
      "Workholding is checked by a second person before the first cut; a heavy plate is lifted with help.",
    ],
  ],
  [
    "loosenCautions",
    facing.loosenCautions,
    [
      isolation,
      "Before a bolt is loosened, support the head or lower it on a block; use lifting gear and a second competent person.",
      "Loosen one bolt at a time where the maker allows it; no fingers in the gap.",
    ],
  ],
  [
    "stoningCautions",
    facing.stoningCautions,
    [
      isolation,
      "Solvent and iron dust: ventilate, no flame, gloves for the solvent only and off before the machine has power.",
      "Old paint may hold lead: do not sand or scrape it dry.",
    ],
  ],
])("%s stand whole, defer at their end and can't be taken out", (_name, cautions, list) => {
  expect(cautions).toEqual([...list, deferring]);
  expect(Object.isFrozen(cautions)).toBe(true);
});

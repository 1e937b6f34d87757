import { resolve } from "node:path";
import * as everything from "../../kernel-lib/src/index.js";
import { display } from "../../kernel-lib/src/quantity/index.js";
import { aJob, aTop } from "../facing/a-job.js";
import { aMap } from "../facing/a-map.js";
import { aFacedPlate, yieldingConditions } from "../facing/some-conditions.js";
import { clubTable } from "../figure/club-table.js";
import { aPlan } from "./a-plan.js";

const { axis, budget, conformity, decision, facing, figure, form, heat, input, kelvin, Measured, mm, mmPerMin, MPa } =
  everything;
const { newton, perMin, proof, readSurvey, smallestChange, survey, um, uncertainty, verdict } = everything;

const sheet = () => readSurvey(resolve(import.meta.dirname, "../../data/table-before.csv"));
const table = clubTable();
const bow = (x: number, y: number) => 12 * ((x - 260) / 240) ** 2 + 0.04 * x - 0.05 * y;
const rim = aMap((x, y) => bow(x, y) + (x === 60 && y === 20 ? 24 : 0), {
  noiseUm: 0.6,
  gaugeUm: 2,
});
const between = form.surface(table, { slots: [{ along: "x", at: mm(75), width: mm(14) }] });
const growth = budget({
  measurand: "growth",
  inputs: {
    rise: input.normal({ label: "rise", estimate: kelvin(3), standardUncertainty: kelvin(0.4), degreesOfFreedom: 9 }),
    dial: input.rectangular({ label: "dial", estimate: um(40), halfWidth: um(2) }),
  },
  model: ({ rise, dial }) => mm(300).times(everything.perKelvin(11.5e-6).times(rise)).plus(dial),
});
const study = survey.gaugeStudy({
  readings: [3, 4, -6, -5, 11, 12].flatMap((height, i) =>
    ["Sat", "Sun"].map((operator, j) => ({ part: `P${i >> 1}`, operator, value: um(height + 0.4 * j) })),
  ),
  tolerance: um(25.4),
  partsAre: "places",
  operatorsAre: "days",
});
const within = (label: string, half: number) => input.rectangular({ label, estimate: mm(0), halfWidth: mm(half) });
const slots = [50, 110, 170].map((y) => ({ along: "x" as const, at: mm(y), width: mm(12) }));
const top = facing.area(mm(60), mm(460), mm(20), mm(200));
const plate = facing.plate({
  name: "fixture plate",
  area: top,
  thickness: mm(25),
  thicknessWithin: mm(0.2),
  material: facing.plateMaterial("aluminium 6061-T651"),
  slots,
  screws: facing.screwPattern({ area: top, slots, spacing: mm(120), fromEnd: mm(30) }),
  thread: "M10",
  counterboreDepth: mm(13),
  deepestCut: mm(0.5),
});
const down = facing.holdDown({
  plate,
  screw: { propertyClass: "8.8", friction: [0.1, 0.16], wrench: 0.06 },
  slot: facing.tSlot("M10"),
  nut: { length: mm(25), width: mm(18), threadHeight: mm(14), threadBelowTable: mm(3) },
  table: { tensileStrength: MPa(150), reserve: 3 },
  screwLength: mm(30),
  jointFriction: 0.1,
  cutting: { force: newton(300), lift: newton(100) },
});
const scale = input.normal({ label: "scale", estimate: um(30), standardUncertainty: um(2) });
const reading = (times: number) =>
  budget({ measurand: "a reading", inputs: { scale }, model: (x) => x.scale.times(times) });
const job = aJob({ name: "club plate" });
const replayed = (text: string) => facing.replay(text, job, aTop(job), { pitch: mm(2) });
const truth = { mean: um(12), standardDeviation: um(4), source: "invented" };
const warmUp = () =>
  heat
    .readWarmUp(resolve(import.meta.dirname, "../../data/warm-up-spindle.csv"))
    .between(everything.minutes(0), everything.minutes(180));
const pair = heat.boltedPair({
  upper: { material: heat.material("aluminium 6061"), thickness: mm(25.4) },
  lower: { material: heat.material("grey iron"), thickness: mm(50.8) },
  length: mm(508),
  width: mm(203.2),
  warming: kelvin(4),
  joint: { preload: newton(9000), screws: 8, friction: everything.Quantity.fromSi("number", 0.15) },
});
const flat = Measured.from(input.normal({ label: "flatness", estimate: um(18), standardUncertainty: um(3) }));

const aRecord = () => {
  const lines = [12, 12.4, 25.4].map((valueUm, i) => ({
    ...{
      line: i + 1,
      date: `2026-0${i + 1}-10`,
      subject: "table",
      result: "flatness",
      valueUm,
      standardUncertaintyUm: 1,
    },
    ...{ relativeTo: "travel", gauge: "dial", places: "78 places", sheet: "table.csv" },
    ...{ version: "0.1.0", previous: "", sha256: "" },
  }));
  return new proof.ResultRecord("record.jsonl", lines);
};
const travel = axis.readPositioning(resolve(import.meta.dirname, "../../data/positioning-x.csv"));
const dial = everything.gauge({ resolution: um(1), maximumPermissibleError: um(3) });

const square = Measured.from(
  input.normal({
    label: "square",
    estimate: everything.slope(um(30), mm(1000)),
    standardUncertainty: everything.slope(um(4), mm(1000)),
  }),
);

const data = (name: string) => resolve(import.meta.dirname, "../../data", name);
const sweep = () => form.spindleTram(form.readSweep(data("sweep-head.csv")));
const levels = () => form.levelNetwork(form.readLevels(data("levels-table.csv")));

const screwClearance = () =>
  facing.screwClearance({
    thread: "M10",
    leastCounterboreDepth: mm(12),
    plateThickness: mm(25),
    webNeeded: mm(8),
    margin: mm(0.5),
    screws: [{ label: "S1", cut: mm(0.4) }],
    doubts: {
      touchOff: within("touch-off", 0.05),
      toolLength: within("tool length", 0.02),
      lockShift: within("lock", 0.02),
      deflection: within("deflection", 0.02),
    },
  });
const positioningPlan = () =>
  axis.positioningPlan({
    axis: "Z",
    travel: [mm(0), mm(300)],
    lead: mm(4),
    blocksTogether: 4,
    blocks: [1.27, 5, 10, 20, 50, 100, 200].map((block) => mm(block)),
    gauge: dial,
    reference: { name: "gauge blocks" },
  });

/** One value of every class that a notebook shows, by the name of the class; each made when asked for. */
export const everyClass: { readonly [name: string]: () => object } = {
  Quantity: () => um(12.3),
  Input: () => scale,
  Measured: () => flat,
  CorrelatedGroup: () =>
    uncertainty.correlated(
      [
        input.normal({ label: "blocks", estimate: mm(50.8), standardUncertainty: um(2.54), degreesOfFreedom: 9 }),
        input.normal({ label: "room", estimate: kelvin(2), standardUncertainty: kelvin(0.4), degreesOfFreedom: 9 }),
      ],
      [
        [1, 0.5],
        [0.5, 1],
      ],
    )[0].terms[0]!.input.group!,
  Budget: () => growth,
  Budgets: () => everything.budgets({ inputs: { scale }, model: (x) => ({ one: x.scale, two: x.scale.times(2) }) }),
  PooledSpread: () => uncertainty.pooledSpread([[um(0), um(25.4)]]),
  MonteCarlo: () => growth.simulate({ seed: 1, trials: 4000 }),
  JointMonteCarlo: () => uncertainty.simulateTogether({ one: reading(1), two: reading(-3) }, { seed: 1, trials: 1000 }),
  Survey: sheet,
  PlaceStatistics: () => sheet().byPlace(),
  Health: () => sheet().health(),
  GaugeStudy: () => study,
  StudySplit: () => study.chosen,
  SurveyPlan: () => aPlan({ smallestDefect: { diameter: mm(40), height: um(12) } }),
  NextPlaces: () => survey.whereNext(table),
  Verdict: () => verdict(flat, { upper: um(20) }),
  SmallestChange: () => smallestChange(um(2.54)),
  Acceptance: () => conformity.acceptance(flat, { upper: um(20) }, "guarded acceptance"),
  SpecificRisk: () => conformity.specificRisk(flat, { upper: um(20) }, truth, "simple acceptance"),
  GlobalRisk: () =>
    conformity.globalRisk({
      tolerance: { upper: um(20) },
      truth,
      standardUncertainty: um(4),
      rule: "simple acceptance",
    }),
  Flatness: () => form.flatness(table),
  ReferencePlane: () => form.plane(table, { by: "bisquare" }),
  Straightness: () => form.straightness(table, { along: "x", at: mm(100) }),
  LocalHighs: () => form.localHighs(table),
  LocalLows: () => form.localLows(table),
  MakeUp: () => form.makeUp(table),
  FormReading: () => form.reading(table),
  LevelNetwork: levels,
  "LevelNetwork of a single line": () => {
    const { places, readings, ...rest } = levels().survey;
    const row = places.filter(({ yMm }) => yMm === 95);
    return form.levelNetwork({ ...rest, places: row, readings: readings.filter(({ line }) => line === "row 95") });
  },
  TravelAndTable: () =>
    form.travelAndTable({
      byIndicator: sheet().withoutReading("D9", 1, "swarf").surface(),
      byLevel: levels().surface(),
    }),
  StraightedgeReversal: () =>
    form.straightedgeReversal({
      name: "straightedge",
      at: [0, 101.6, 203.2].map((at) => mm(at)),
      normal: [0, 3, 1].map((v) => um(v)),
      reversed: [1, 5, 0].map((v) => um(v)),
      plane: "horizontal",
      standardUncertainty: um(0.5),
    }),
  SpindleTram: sweep,
  Squareness: () => form.squareness(form.readSquare(data("square-y-to-x.csv"))),
  ShimSheet: () =>
    form.shims({
      name: "re-tram",
      what: "column",
      tilt: { as: "lean", ...sweep().lean },
      bolts: [0, 203.2].flatMap((x) =>
        [0, 254].map((y) => ({ label: `${x > 0 ? "R" : "L"}${y > 0 ? "B" : "F"}`, x: mm(x), y: mm(y) })),
      ),
      foils: [20, 30, 50].map((v) => um(v)),
    }),
  Settling: () => warmUp().growth("nose"),
  "Settling of a thermometer": () => warmUp().temperature("headstock"),
  Wait: () => warmUp().growth("nose").waitUntilLeft(um(2.54)),
  WarmUp: warmUp,
  WarmthBow: () =>
    heat.warmthBow({
      found: flat,
      length: mm(508),
      thickness: mm(25.4),
      material: heat.material("aluminium 6061"),
      difference: kelvin(0.4),
    }),
  WarmthCorrection: () =>
    heat.correctedForWarmth({
      survey: sheet(),
      curve: warmUp().growth("nose"),
      recordStart: everything.hours(19),
      heights: "raised",
    }),
  Material: () => heat.material("steel"),
  Materials: () => heat.materials(),
  BoltedPair: () => pair,
  Joint: () => pair.joint!,
  FacingDepth: () => facing.depth(rim, { draws: 200 }),
  Plate: () => plate,
  Preload: () => down.preload,
  HoldDown: () => down,
  CuttingProgram: () => facing.program(job),
  Replay: () => replayed(facing.program(job).text),
  "Replay of a program that is refused": () => replayed(facing.program(job).text.replace("M5\nG0", "G0")),
  Bedding: () => facing.bedding(rim, down, { underside: { flatWithin: um(4) }, draws: 20 }),
  "Bedding of a plate that was mapped": () =>
    facing.bedding(rim, down, { underside: { map: aMap((x) => 0.03 * x, { noiseUm: 0.6, gaugeUm: 2 }) }, draws: 20 }),
  CuttingConditions: () => facing.cuttingConditions(yieldingConditions()),
  FacedPlate: () => aFacedPlate(),
  Passes: () =>
    facing.pass({
      lengthAlongFeed: mm(460),
      widthAcrossFeed: mm(200),
      cutterDiameter: mm(50),
      stepOver: mm(30),
      spindleSpeed: perMin(600),
      teeth: 1,
      feedPerTooth: mm(0.1),
      runOut: mm(3),
      returnFeed: mmPerMin(300),
    }),
  Reach: () =>
    facing.reach(rim, {
      travel: facing.area(mm(0), mm(520), mm(0), mm(230)),
      cutterRadius: mm(25),
      area: facing.area(mm(30), mm(470), mm(20), mm(200)),
      runOut: mm(3),
      feedAlong: "x",
    }),
  Ridges: () =>
    facing.ridges({
      cutterRadius: mm(25),
      stepOver: mm(30),
      tiltAlongFeed: everything.slope(um(20), mm(150)),
      tiltAcrossFeed: everything.slope(um(20), mm(150)),
    }),
  ScrewClearance: screwClearance,
  Decision: () =>
    decision.options({
      surface: rim,
      independent: { ...rim, name: "table by level", frame: { ...rim.frame, relativeTo: "gravity" } },
      playOfZ: um(4),
      part: { x: mm(300), y: mm(150) },
      texture: { asFound: um(4), reTrammed: um(0.5) },
      regrindPromises: um(10),
      own: [
        {
          name: "lap with a ring",
          assumes: "half of the form goes",
          canBeUndone: "no",
          risks: "grit in the ways",
          after: ({ zUm }) => um(zUm / 2),
        },
      ],
      tolerance: { upper: um(16), source: "drawing of the job" },
      plate: { texture: um(2), deflectionUpTo: um(2), travelRepeatUpTo: um(2), heatUpTo: um(2) },
      efforts: { leave: { hours: everything.hours(0) } },
      draws: 200,
    }),
  ExpectedCost: () =>
    decision.options({
      surface: rim,
      tolerance: { upper: um(16), source: "drawing of the job" },
      efforts: { leave: { hours: everything.hours(0) }, stone: { hours: everything.hours(1) } },
      stakes: { ifMissed: { hours: everything.hours(6) }, measuringAgain: { hours: everything.hours(2) } },
      draws: 200,
    }).expectedCost!,
  Difference: () =>
    proof.difference({
      before: rim,
      after: aMap((x, y) => bow(x, y) + 0.6 * Math.sin(x * y), { noiseUm: 0.6, gaugeUm: 2 }),
    }),
  Settled: () => proof.settled({ first: rim, second: rim, apart: everything.minutes(40) }),
  AgainstReference: () =>
    proof.againstReference([
      { what: "flatness", where: "the first survey", stated: flat, reference: um(24) },
      { what: "good for it?", stated: verdict(flat, { upper: um(20) }), reference: um(24) },
      { what: "predicted", stated: { estimate: um(20), low: um(15), high: um(26) }, reference: um(24) },
    ]),
  ReferenceValues: () => proof.parseReferenceValues('{ "playUm": 14 }'),
  NewSurface: () =>
    proof.newSurface({
      before: rim,
      after: aMap(bow, { noiseUm: 0.6, gaugeUm: 2 }),
      tolerance: { upper: um(16), source: "drawing of the job" },
    }),
  FittedSurface: () => between,
  ChanceAbove: () => between.chanceAbove(um(10)),
  LeaveOneOut: () => between.leaveOneOut(),
  SurfaceRaster: () => between.raster(20),
  SurfaceComparison: () => form.compareSurfaces(table),
  ResultRecord: () => aRecord(),
  Trend: () => aRecord().trend({ subject: "table", result: "flatness" }),
  PositioningPlan: positioningPlan,
  PositioningTest: () => travel,
  Positioning: () => axis.positioning(travel),
  SystematicPart: () => axis.systematicPart(travel, { lead: mm(5) }),
  Compensation: () => axis.compensation(axis.positioning(travel)),
  DriveTrain: () => axis.driveTrain({ fullStepsPerTurn: 200, microsteps: 8, lead: mm(5) }),
  SmallMoves: () => axis.readSmallMoves(resolve(import.meta.dirname, "../../data/ladder-x.csv")),
  LiftUnderPull: () => {
    const [free, pulled] = ["free", "pulled"].map((how) =>
      axis.readSmallMoves(resolve(import.meta.dirname, `../../data/ladder-z-${how}.csv`)),
    );
    return axis.liftUnderPull({ free: free!, pulled: pulled!, weight: newton(690) });
  },
  ThreeAxes: () =>
    axis.threeAxes({
      axes: { X: { positioning: axis.positioning(travel), part: axis.systematicPart(travel, { lead: mm(5) }) } },
      squareness: { XY: square },
      tram: { x: square, y: square },
      work: { X: mm(254), Y: mm(127), Z: mm(50.8) },
      cutterDiameter: mm(50.8),
    }),
  Diagnosis: () =>
    axis.diagnosis(axis.positioning(travel), {
      lead: mm(5),
      motorTurn: mm(10 / 3),
      ladder: axis.readSmallMoves(resolve(import.meta.dirname, "../../data/ladder-x.csv")),
    }),
  Figure: () => figure.heightMap(table),
  // what a person writes stays as it is written: no unit stands in it here
  Note: () => everything.note("3 places left blank: A1, A2, H6"),
  Finding: () => everything.finding("the table is hollow along its length, and one corner stands up"),
  Caution: () =>
    everything.caution("reaching under the spindle", ["Isolate the spindle before you reach in.", "Wear no gloves."]),
  Table: () =>
    everything.table({
      caption: "gauges on the shelf",
      columns: [{ heading: "gauge" }, { heading: "years since it was checked" }],
      rows: [
        ["lever indicator", 2],
        ["dial indicator", 11],
      ],
      foot: [["both", 13]],
      notes: ["the older one stays on the shelf until it is checked"],
    }),
  BlankSheet: () => everything.blankSheet(aPlan()),
  "BlankSheet of a positioning test": () => everything.blankSheet(positioningPlan()),
  ShopCard: () =>
    everything.shopCard({
      ...{ title: "Face the fixture plate", decision: "fixture plate, faced in place", holdDown: down },
      depth: facing.depth(rim, { draws: 100, thickness: mm(25) }),
      clearance: screwClearance(),
      cut: {
        ...{ spindleSpeed: perMin(600), feed: mmPerMin(60), stepOver: mm(30), passes: 6 },
        ...{ roughDepth: mm(0.25), finishDepth: mm(0.15) },
      },
    }),
};

/** The public classes that show themselves, by name: a new one wants an entry above. */
export function classesThatShow(): ReadonlyMap<string, object> {
  const parts = [everything, ...Object.values(everything).filter((part) => typeof part === "object" && part !== null)];
  return new Map(
    parts
      .flatMap((part) => Object.entries(part))
      .flatMap(([name, value]: [string, unknown]) =>
        typeof value === "function" && typeof value.prototype === "object" && display in value.prototype
          ? [[name, value.prototype as object] as const]
          : [],
      ),
  );
}

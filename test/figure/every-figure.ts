import { resolve } from "node:path";
import type { Figure } from "../../kernel-lib/src/figure/index.js";
import {
  axis,
  facing,
  figure,
  form,
  heat,
  kelvin,
  minutes,
  mm,
  newton,
  proof,
  readSurvey,
  survey,
  um,
  umPerM,
} from "../../kernel-lib/src/index.js";
import { aPlan } from "../display/a-plan.js";
import { aJob, aTop } from "../facing/a-job.js";
import { aMap } from "../facing/a-map.js";
import { aHoldDown } from "../facing/a-plate.js";
import { clubTable, scatteredTable } from "./club-table.js";

const data = (name: string) => resolve(import.meta.dirname, "../../data", name);

const table = clubTable();
const between = form.surface(table, {
  slots: [{ along: "x", at: mm(75), width: mm(14) }],
  obstacles: [{ name: "vice", x: [mm(355), mm(415)], y: [mm(100), mm(160)] }],
});
const outline = (x: number): (readonly [number, number])[] => [
  [-x, -x],
  [1000, -x],
  [1000, 270],
];
const study = survey.gaugeStudy({
  readings: [3, 4, -6, -5, 11, 12].map((height, i) => ({ part: `P${i >> 1}`, value: um(height) })),
  tolerance: um(25.4),
  partsAre: "places",
});
const readings = [1, 2].flatMap((run) => [
  ...[0, 40].map((at) => ({ target: mm(at), direction: "up" as const, run, deviation: um(at / 20 + run) })),
  ...[40, 0].map((at) => ({ target: mm(at), direction: "down" as const, run, deviation: um(at / 20 + 9) })),
]);
const warmUp = heat.readWarmUp(data("warm-up-spindle.csv")).between(minutes(0), minutes(180));
const nose = warmUp.growth("nose");
const levels = form.readLevels(data("levels-table.csv"));
const ofRow = { ...levels, places: levels.places.filter(({ yMm }) => yMm === 20) };
const row = form.levelNetwork({ ...ofRow, readings: levels.readings.filter(({ line }) => line === "row 20") });
const tram = form.spindleTram(form.readSweep(data("sweep-head.csv")));
const bolts = [0, 203.2].flatMap((x) => [0, 254].map((y) => ({ label: `${x}/${y}`, x: mm(x), y: mm(y) })));
const stacks = form.shims({
  ...{ name: "re-tram", what: "column", tilt: { as: "lean", ...tram.lean } },
  ...{ bolts, foils: [um(20), um(5)] },
});
const hollow = aMap((x) => 30 * ((x - 260) / 240) ** 2, { noiseUm: 0.5, gaugeUm: 1 });
const bed = facing.bedding(hollow, aHoldDown(), { underside: { flatWithin: um(5.08) }, draws: 20 });
const job = aJob();
const { text } = facing.program(job);
const replayed = facing.replay(text, job, aTop(job), { tilt: { x: umPerM(0), y: umPerM(100) }, pitch: mm(2) });
const refused = facing.replay(text.replace("M5\nG0", "G0"), job, aTop(job), { pitch: mm(2) });
const positioned = axis.positioning(
  axis.positioningTest({ axis: "X", readings, gauge: table.gauge, reference: { name: "blocks of 40 mm" } }),
);
const cut = facing.depth(
  aMap((x) => x / 10, { noiseUm: 0.5, gaugeUm: 1 }),
  { draws: 100, thickness: mm(25.4) },
);
const results = [12, 12.4, 25.4].map((valueUm, i) => ({
  ...{ line: i + 1, date: `2026-0${i + 1}-10`, subject: "table", result: "flatness", valueUm },
  ...{
    standardUncertaintyUm: 1,
    relativeTo: "travel" as const,
    gauge: "dial",
    places: "78 places",
    sheet: "table.csv",
  },
}));

/** Pictures by the function that draws them: every exported one is here, or a test fails. */
export const everyFigure: { readonly [name: string]: { readonly [what: string]: () => Figure } } = {
  bars: {
    bars: () =>
      figure.bars({
        title: "shares",
        axis: "share/%",
        rows: [
          { label: "the gauge over the range used", value: 88, text: "88 %" },
          { label: "repeatability", value: 12, text: "12 %" },
        ],
      }),
  },
  gapMap: { loose: () => figure.gapMap(bed, "loose"), tight: () => figure.gapMap(bed, "tight", 25.4) },
  springBackMap: { released: () => figure.springBackMap(bed) },
  bowProfile: {
    "bow of two metals": () =>
      figure.bowProfile(
        heat.boltedPair({
          upper: { material: heat.material("aluminium 6061"), thickness: mm(25.4) },
          lower: { material: heat.material("grey iron"), thickness: mm(50.8) },
          length: mm(508),
          width: mm(203.2),
          warming: kelvin(4),
        }),
      ),
  },
  depthSlider: { "depth of a cut": () => figure.depthSlider(cut) },
  deviationPlot: { "deviations of an axis": () => figure.deviationPlot(positioned, { limitUm: 25.4 }) },
  facedMap: { "a faced plate": () => figure.facedMap(replayed) },
  formBars: { "bars of a form": () => figure.formBars(form.makeUp(table)) },
  heightMap: {
    map: () => figure.heightMap(table, { limitUm: 50.8, outlines: [{ name: "the cutter", cornersMm: outline(20) }] }),
    "map of scattered places": () => figure.heightMap(scatteredTable()),
    "map with a caution": () =>
      figure.heightMap(table, {
        cautions: [{ title: "before the head is loosened", lines: ["Lower the head onto a block."] }],
        notes: ["open sheet"],
      }),
  },
  uncertaintyMap: {
    "map of uncertainty": () =>
      figure.uncertaintyMap(
        table,
        table.places.map(() => 1.2),
      ),
  },
  heightSurface: {
    surface: () => figure.heightSurface(table),
    "surface of scattered places": () => figure.heightSurface(scatteredTable()),
  },
  histogram: {
    histogram: () =>
      figure.histogram({
        title: "growth",
        axis: "growth/%",
        heightAxis: "trials in a bar/%",
        from: 0,
        to: 4,
        heights: [10, 40, 40, 10],
        curve: {
          label: "first order",
          points: [
            [0, 5],
            [2, 45],
            [4, 5],
          ],
        },
        intervals: [{ label: "shortest 95 %", from: 0.5, to: 3.5, text: "0.5 % to 3.5 %" }],
      }),
  },
  holdDownPlan: { "order of tightening": () => figure.holdDownPlan(aHoldDown()) },
  ladderPlot: { "small moves": () => figure.ladderPlot(axis.readSmallMoves(data("ladder-x.csv"))) },
  levelNetwork: {
    "network of levels": () => figure.levelNetwork(form.levelNetwork(levels)),
    "strip of a line of levels": () => figure.levelNetwork(row),
  },
  liftPlot: {
    "lift of Z under a pull": () =>
      figure.liftPlot(
        axis.liftUnderPull({
          free: axis.readSmallMoves(data("ladder-z-free.csv")),
          pulled: axis.readSmallMoves(data("ladder-z-pulled.csv")),
          weight: newton(690),
        }),
      ),
  },
  passDifferences: { "a stand that slipped": () => figure.passDifferences(readSurvey(data("odd-second.csv"))) },
  planMap: { plan: () => figure.planMap(aPlan()) },
  programPath: { passed: () => figure.programPath(replayed), refused: () => figure.programPath(refused) },
  residualMap: { "map of what is left": () => figure.residualMap(form.plane(table)) },
  residualSurface: { "surface of what is left": () => figure.residualSurface(form.plane(table)) },
  settlingCurve: {
    "growth of a spindle": () => figure.settlingCurve(nose, { wait: nose.waitUntilLeft(um(2.54)) }),
    "warmth of a headstock": () => figure.settlingCurve(warmUp.temperature("headstock")),
  },
  shimPlan: { "plan of shims": () => figure.shimPlan(stacks) },
  straightnessStrip: {
    strip: () => figure.straightnessStrip(form.straightness(table, { along: "x", at: mm(100) })),
  },
  studyBars: { "bars of a study": () => figure.studyBars(study) },
  studyReadings: { "readings of a study": () => figure.studyReadings(study) },
  surfaceChance: { "chance of the surface": () => figure.surfaceChance(between.chanceAbove(um(10))) },
  surfaceMap: { "surface between the places": () => figure.surfaceMap(between) },
  surfaceUncertainty: { "uncertainty of the surface": () => figure.surfaceUncertainty(between) },
  tramCircle: { "circle of a sweep": () => figure.tramCircle(tram) },
  trendPlot: { "a record": () => figure.trendPlot(proof.trend(results)) },
};

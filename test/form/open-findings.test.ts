import { describe, expect, it } from "vitest";
import { acceptance, verdict } from "../../kernel-lib/src/conformity/index.js";
import { options } from "../../kernel-lib/src/decision/index.js";
import { presentMeasured, presentVerdict } from "../../kernel-lib/src/display/present-budgets.js";
import { presentFlatness, presentStraightness } from "../../kernel-lib/src/display/present-form.js";
import { depth } from "../../kernel-lib/src/facing/index.js";
import {
  flatness,
  localHighs,
  makeUp,
  plane,
  reading,
  straightness,
  surface,
  travelAndTable,
} from "../../kernel-lib/src/form/index.js";
import { randomStream } from "../../kernel-lib/src/numerics/random.js";
import { difference, newSurface } from "../../kernel-lib/src/proof/index.js";
import { mm, um } from "../../kernel-lib/src/quantity/index.js";
import { parseSurvey, type Survey } from "../../kernel-lib/src/survey/survey.js";
import { budget, budgets, input, type Measured } from "../../kernel-lib/src/uncertainty/index.js";
import { refusal } from "../refusal.js";
import { twoPasses } from "../survey/planted-slips.js";

const head = `# title: invented survey, simulated
# relative to: travel
# front: y-
# +x: right
# +y: back
# gauge maximum permissible error: 4 um
# gauge range per turn: 200 um
# gauge resolution: 1 um
`;

/** a hollow of 8 µm read twice, one reading of the second pass a turn of the pointer too high where asked for */
function survey(name: string, { slip = 0, raise = 0, seed = 7, more = "" } = {}): Survey {
  const random = randomStream(seed);
  const rows = [1, 2].flatMap((pass) =>
    Array.from({ length: 30 }, (_, k) => {
      const [i, j] = [k % 6, Math.floor(k / 6)];
      const z =
        Math.round(32 * (i / 5 - 0.5) ** 2 + random.normal()) + (k === 15 ? raise + (pass === 2 ? slip : 0) : 0);
      return `${"ABCDEF"[i]}${j + 1},${50 * i},${40 * j},${z},${pass}`;
    }),
  );
  return parseSurvey(`${head}${more}place,x/mm,y/mm,z/um,pass\n${rows.join("\n")}\n`, { name });
}

const slipped = survey("slip.csv", { slip: 200 });
const said =
  'to be looked at first, says the health check of "slip.csv": D3: pass 1 and 2 differ by 199 µm, a whole turn of the pointer, pass 2 likelier wrong (it stands off its neighbours, and swarf reads high); read the turn counter again at D3';
const times = (text: string) => text.split("says the health check").length - 1;
const tolerance = { upper: um(20), source: "the job" };

describe("a survey with a turn of the pointer missed", () => {
  const found = flatness(slipped);

  it("says in every figure of form what the health check found, once, and what to do", () => {
    const sentences = [
      found,
      plane(slipped),
      makeUp(slipped),
      localHighs(slipped),
      reading(slipped),
      straightness(slipped, { along: "x", at: mm(80) }),
      surface(slipped, { method: "bilinear" }),
      depth(slipped),
    ].map(String);
    for (const sentence of sentences) {
      expect(sentence.endsWith(`; ${said}`)).toBe(true);
      expect(times(sentence)).toBe(1);
    }
  });

  it("shows it with the figure, in text and in HTML, and once", () => {
    for (const bundle of [
      presentFlatness(found),
      presentStraightness(straightness(slipped, { along: "x", at: mm(80) })),
      presentMeasured(found.overall as never),
      presentVerdict(verdict(found.minimumZone.corrected, tolerance) as never),
    ]) {
      const text = String(bundle["text/plain"]);
      expect(text).toContain(said);
      expect(times(text)).toBe(1);
      const page = String(bundle["text/html"])
        .replaceAll(/<[^>]*>|\u2060/g, "")
        .replaceAll(/[\u00a0\u202f]/g, " ");
      expect(page).toContain("a whole turn of the pointer, pass 2 likelier wrong");
      expect(page).toContain("read the turn counter again at D3");
    }
  });

  it("alters no number", () => {
    const { caveat, ...bare } = slipped.surface();
    expect(caveat?.sentence()).toBe(said);
    const without = flatness(bare);
    expect(without.overall.text()).toBe(found.overall.text());
    expect(without.minimumZone.corrected.text()).toBe(found.minimumZone.corrected.text());
    expect(String(found)).toBe(`${without}; ${said}`);
  });

  it("goes with the figure into a verdict, an acceptance, a budget and its simulation", () => {
    const figure = found.minimumZone.corrected;
    expect(verdict(figure, tolerance).sentence().endsWith(`; ${said}`)).toBe(true);
    expect(acceptance(figure, tolerance, "simple acceptance").sentence().endsWith(`; ${said}`)).toBe(true);
    const paper = input.normal({ label: "paper", estimate: um(80), standardUncertainty: um(5) });
    const inputs = { figure, tilt: found.overall, paper };
    const gap = budget({ measurand: "gap", inputs, model: (i) => i.figure.plus(i.paper).plus(i.tilt) });
    expect(gap.caveats).toEqual([said]);
    expect(gap.sentence().endsWith(`; ${said}`)).toBe(true);
    expect(times(gap.sentence())).toBe(1);
    expect(gap.simulate({ seed: 1, trials: 1000 }).sentence().endsWith(`; ${said}`)).toBe(true);
    const both = budgets({
      measurands: { gap: "gap", twice: "twice the gap" },
      inputs: { figure },
      model: (i) => ({ gap: i.figure, twice: i.figure.times(2) }),
    });
    expect(times(String(both))).toBe(1);
  });

  it("goes into a decision and a proof, each survey's once", () => {
    const clean = survey("clean.csv", { seed: 8 });
    const chosen = options({ surface: slipped, tolerance, draws: 200 });
    expect(chosen.toString()).toBe(`${chosen.answer}; ${said}`);
    expect(difference({ before: slipped, after: clean }).toString().endsWith(`; ${said}`)).toBe(true);
    const proof = newSurface({ before: clean, after: slipped, tolerance }).toString();
    expect(times(proof)).toBe(1);
    const other = survey("again.csv", { slip: 400, seed: 9 });
    expect(difference({ before: slipped, after: other }).caveats).toEqual([
      said,
      said.replace("slip.csv", "again.csv").replace("by 199", "by 398"),
    ]);
  });

  it("says nothing any more once the reading is set aside, and nothing of a sound survey", () => {
    const mended = slipped.withoutReading("D3", 2, "missed a turn");
    expect(String(flatness(mended))).not.toContain("health check");
    expect(flatness(mended).overall.caveats).toEqual([]);
    expect(flatness(survey("clean.csv")).overall.caveats).toEqual([]);
  });
});

it("speaks in every figure of a survey that is not sound, and in none of one that is", () => {
  for (let seed = 1; seed <= 12; seed++) {
    const one = seed % 2 === 0 ? twoPasses(seed) : survey("law.csv", { seed, slip: seed % 3 === 0 ? 60 : 0 });
    const figure: Measured<"length"> = flatness(one).overall;
    const asked = one
      .health()
      .findings.filter(({ severity, check }) => severity !== "note" && check !== "drift" && check !== "blanks");
    expect(figure.caveats.length).toBe(asked.length > 0 ? 1 : 0);
  }
});

describe("a place that stands off its neighbours in both passes", () => {
  const raised = survey("ding.csv", { raise: 25 });

  it("is asked about with every figure until somebody has looked", () => {
    expect(flatness(raised).overall.caveats).toEqual([
      'to be looked at first, says the health check of "ding.csv": D3: stands high by 25 µm against the smooth run of the others, and its passes agree; slide over D3 and its surroundings, feel for a burr or a ding',
    ]);
    const seen = raised.lookedAt("D3", " a ding,  it catches a fingernail ");
    expect(flatness(seen).overall.caveats).toEqual([]);
    expect(flatness(seen).overall.text()).toBe(flatness(raised).overall.text());
    const [noted] = seen.health().findings.filter(({ check }) => check === "neighbours");
    expect(noted).toMatchObject({
      severity: "note",
      what: "D3: stands high by 25 µm against the smooth run of the others, and its passes agree; looked at: a ding, it catches a fingernail",
      whatToDo: "nothing",
    });
  });

  it("keeps what was found there on the sheet", () => {
    const seen = raised.lookedAt("D3", "a ding").lookedAt("D3", "a burr, stoned off next week");
    expect(seen.toCsv()).toContain("# looked at D3: a burr, stoned off next week\n");
    const again = parseSurvey(seen.toCsv(), { name: "ding.csv" });
    expect(flatness(again).overall.caveats).toEqual([]);
    expect(again.toCsv()).toBe(seen.toCsv());
  });

  it("is not answered by looking somewhere else, nor is a missed turn by looking at all", () => {
    expect(flatness(raised.lookedAt("A1", "nothing there")).overall.caveats).toHaveLength(1);
    expect(flatness(slipped.lookedAt("D3", "nothing there")).overall.caveats).toEqual([said]);
  });

  it("is refused where nothing is said, or the place is not on the sheet", () => {
    expect(refusal(() => raised.lookedAt("D3", " "))).toEqual({
      code: "reason",
      message: "lookedAt: nothing is said of D3; say what you saw or felt there",
    });
    expect(refusal(() => raised.lookedAt("Z9", "a ding"))).toEqual({
      code: "no-such-place",
      message: "ding.csv: Z9 was looked at and is no place of the sheet; give a place as it stands there",
    });
    expect(refusal(() => survey("x.csv", { more: "# looked at: a ding\n" }))).toEqual({
      code: "looked-line",
      message:
        'x.csv line 9: "# looked at: a ding" does not say where; write "# looked at C4: a ding, felt with a fingernail"',
    });
  });
});

it("counts what else is open, and says of what misleads that it does", () => {
  const off = survey("off.csv", { slip: 200, more: "# travel x: 0 mm to 240 mm\n" });
  expect(flatness(off).overall.caveats).toEqual([
    'misleading as it stands, says the health check of "off.csv": F1, F2, F3, F4, F5: outside the travel stated on the sheet; correct x and y, or the lines travel x and travel y; 1 more is open there',
  ]);
});

it("carries what is open in either survey into what is told apart from both", () => {
  const { caveat, ...map } = survey("level.csv", { seed: 3 }).surface();
  const level = { ...map, frame: { ...map.frame, relativeTo: "gravity" as const } };
  const apart = travelAndTable({ byIndicator: slipped, byLevel: level });
  expect(flatness(apart.travel).overall.caveats).toEqual([said]);
  expect(flatness(apart.table).overall.caveats).toEqual([]);
  expect(caveat?.sentence()).toBeUndefined();
});

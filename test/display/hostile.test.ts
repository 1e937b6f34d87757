import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import { describe, expect, it } from "vitest";
import type { Figure } from "../../kernel-lib/src/figure/index.js";
import {
  axis,
  blankSheet,
  budget,
  caution,
  figure,
  finding,
  form,
  gauge,
  heat,
  input,
  MeasurementError,
  note,
  parseSurvey,
  proof,
  survey,
  table,
  um,
} from "../../kernel-lib/src/index.js";
import { isQuietMarkup, isQuietPage } from "../../kernel-lib/src/kernel/quiet-markup.js";
import { display, type MimeBundle } from "../../kernel-lib/src/quantity/display-member.js";
import { clubTable } from "../figure/club-table.js";
import { hostile, unseenSigns } from "../hostile.js";
import { aPlan } from "./a-plan.js";

const plotly = "application/vnd.plotly.v1+json";

/** The value shown: nothing in it runs, every text is there to be read, no sign that nobody sees is handed on. */
function expectQuiet(value: object): void {
  const bundle = (Reflect.get(value, display) as () => MimeBundle).call(value);
  const html = String(bundle["text/html"]).replace(/<style>[^<]*<\/style>|<script>[\s\S]*?<\/script>/g, "");
  expect(isQuietMarkup(html), html.slice(0, 4000)).toBe(true);
  for (const text of [html, String(bundle["text/plain"])]) expect(text).not.toMatch(unseenSigns);
  if (bundle[plotly] !== undefined) expectQuietFigure(value as Figure);
}

function expectQuietFigure({ still, data, layout }: Figure): void {
  expect(isQuietPage(still)).toBe(true);
  expect(still).not.toMatch(unseenSigns);
  for (const text of textsOf([data, layout])) {
    // plotly takes a few tags as mark-up; only those that we wrote ourselves may reach it
    expect(text.replace(/<\/?(?:b|br|span|extra)(?: style="font-size:12px;color:#\w+")?>/g, "")).not.toMatch(/</);
    expect(text).not.toMatch(unseenSigns);
  }
}

function textsOf(value: unknown): string[] {
  if (typeof value === "string") return [value];
  return typeof value === "object" && value !== null ? Object.values(value).flatMap(textsOf) : [];
}

const dial = gauge({ name: hostile, resolution: um(1), maximumPermissibleError: um(3) });
const places = clubTable().places.map((place, i) => ({ ...place, label: `${i} ${hostile}` }));
const bad = clubTable({ name: hostile, gauge: dial, places });
const line = input.normal({ label: hostile, estimate: um(3), standardUncertainty: um(1) });
const study = () =>
  survey.gaugeStudy({
    readings: [3, 4, -6, -5, 11, 12].flatMap((height, i) =>
      ["a", "b"].map((day) => ({ part: `${i >> 1}${hostile}`, operator: day + hostile, value: um(height) })),
    ),
    tolerance: um(25),
    partsAre: "places",
    operatorsAre: "days",
  });
const plan = () => aPlan({ title: hostile, obstacles: [] });
const record = () => {
  const common = { subject: hostile, result: hostile, relativeTo: "travel" as const, gauge: hostile, places: hostile };
  const lines = [12, 12.4, 25.4].map((valueUm, i) => ({
    ...{ ...common, line: i + 1, date: `2026-0${i + 1}-10`, valueUm, standardUncertaintyUm: 1, sheet: hostile },
    ...{ note: hostile, version: "0.1.0", previous: "", sha256: "" },
  }));
  return new proof.ResultRecord(hostile, lines);
};

describe("hostile names", () => {
  const shown: { readonly [what: string]: () => object } = {
    "a note": () => note(hostile),
    "a finding": () => finding(hostile),
    "a caution": () => caution(hostile, [hostile]),
    "a table": () =>
      table({
        caption: hostile,
        columns: [{ heading: hostile, unit: hostile }, { heading: "b" }],
        rows: [[hostile, hostile]],
        foot: [[hostile, "–"]],
        notes: [hostile],
      }),
    "a budget": () => budget({ measurand: hostile, inputs: { line }, model: ({ line: x }) => x.times(2) }),
    "an input": () => line,
    "a plane": () => form.plane(bad),
    "a flatness": () => form.flatness(bad),
    "local highs": () => form.localHighs(bad),
    "a surface live": () => figure.heightSurface(bad),
    "a map with everything named": () =>
      figure.heightMap(bad, {
        notes: [hostile],
        cautions: [{ title: hostile, lines: [hostile] }],
        outlines: [
          {
            name: hostile,
            cornersMm: [
              [0, 0],
              [1, 0],
              [0, 1],
            ],
          },
        ],
      }),
    bars: () => figure.bars({ title: hostile, axis: hostile, rows: [{ label: hostile, value: 3, text: hostile }] }),
    "a plan": plan,
    "a plan's map": () => figure.planMap(plan()),
    "a sheet on paper": () => blankSheet(plan()),
    "a study": study,
    "the bars of a study": () => figure.studyBars(study()),
    "the readings of a study": () => figure.studyReadings(study()),
    "a record": record,
    "a trend": () => record().trend({ subject: hostile, result: hostile }),
    "a trend's figure": () => figure.trendPlot(record().trend({ subject: hostile, result: hostile })),
  };

  it.each(Object.entries(shown))("in %s are read, and do nothing", (_, make) => expectQuiet(make()));
});

describe("a sheet with hostile words", () => {
  const sheets: { readonly [file: string]: (text: string) => readonly object[] } = {
    "table-before.csv": (text) => {
      const sheet = parseSurvey(text, { name: hostile });
      return [sheet, sheet.health()];
    },
    "levels-plate.csv": (text) => {
      const network = form.levelNetwork(form.parseLevels(text, { name: hostile } as never));
      return [network, figure.levelNetwork(network)];
    },
    "sweep-head.csv": (text) => {
      const tram = form.spindleTram(form.parseSweep(text));
      return [tram, figure.tramCircle(tram)];
    },
    "square-y-to-x.csv": (text) => [form.squareness(form.parseSquare(text))],
    "positioning-x.csv": (text) => [axis.parsePositioning(text)],
    "ladder-x.csv": (text) => {
      const moves = axis.parseSmallMoves(text);
      return [moves, figure.ladderPlot(moves)];
    },
    "warm-up-spindle.csv": (text) => [heat.parseWarmUp(text)],
    "gauge-three-days.csv": (text) => [survey.parseGaugeStudy(text)],
  };

  /** the sheet with the words of one line, or of one column of names, set to the hostile ones */
  function variants(text: string): readonly string[] {
    const lines = text.split("\n");
    const heading = lines.findIndex((row) => !row.startsWith("#"));
    const words = hostile.replace(/[\r\0]/g, " ");
    const cell = `"${words.replaceAll('"', '""')}"`;
    const stated = lines.slice(0, heading).map((row, i) => {
      const [, key] = /^# ([^:]+):/.exec(row) ?? [];
      return lines.with(i, `# ${key}: ${words}`).join("\n");
    });
    const columns = (lines[heading] ?? "")
      .split(",")
      .map((_, column) =>
        lines
          .map((row, i) => (i <= heading || row === "" ? row : row.split(",").with(column, cell).join(",")))
          .join("\n"),
      );
    return [...stated, ...columns, lines.with(heading, `${lines[heading]},${cell}`).join("\n")];
  }

  it.each(Object.entries(sheets))("%s is read or refused, and does nothing", (file, values) => {
    const text = readFileSync(resolve(import.meta.dirname, "../../data", file), "utf8");
    let read = 0;
    let refused = 0;
    for (const variant of variants(text)) {
      try {
        for (const value of values(variant)) expectQuiet(value);
        read++;
      } catch (error) {
        if (!(error instanceof MeasurementError)) throw error;
        refused++;
      }
    }
    expect(read).toBeGreaterThan(2);
    expect(refused).toBeGreaterThan(0);
  });
});

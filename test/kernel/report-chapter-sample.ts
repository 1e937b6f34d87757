import { outputMetadata } from "../../kernel-lib/src/display/bundle.js";
import { caution, finding, table } from "../../kernel-lib/src/display/index.js";
import "../../kernel-lib/src/display/show.js";
import type { Figure } from "../../kernel-lib/src/figure/index.js";
import { heightMap, heightSurface } from "../../kernel-lib/src/figure/index.js";
import type { CodeCell, Output, TextCell } from "../../kernel-lib/src/kernel/notebook.js";
import type { RanChapter } from "../../kernel-lib/src/kernel/ran-chapter.js";
import { display, type MimeBundle } from "../../kernel-lib/src/quantity/index.js";
import { clubTable } from "../figure/club-table.js";

/** A value as our kernel sends it: through JSON, with the mark of our own display code. */
export function shown(value: { [display](): MimeBundle }): Output {
  const bundle = value[display]();
  const data = JSON.parse(JSON.stringify(bundle));
  return { output_type: "display_data", data, metadata: outputMetadata(bundle) };
}

export function code(source: string, outputs: readonly Output[], count: number | null = 1): CodeCell {
  return { cell_type: "code", id: `c${count}`, metadata: {}, source, execution_count: count, outputs };
}

export function text(source: string): TextCell {
  return { cell_type: "markdown", id: "t", metadata: {}, source };
}

export function chapter(cells: readonly (CodeCell | TextCell)[], more: Partial<RanChapter> = {}): RanChapter {
  const notebook = { cells, metadata: {}, nbformat: 4 as const, nbformat_minor: 5 };
  return { name: "03-flatness", title: "Is the table flat enough?", notebook, seconds: 3, ...more };
}

export const surfaceFigure: Figure = heightSurface(clubTable());
export const mapFigure: Figure = heightMap(clubTable(), { notes: ["open sheet"] });

/** A chapter with one of everything. */
export function sampleChapter(more: readonly CodeCell[] = []): RanChapter {
  const heights = table({
    caption: "Highest and lowest places",
    columns: [
      { heading: "place" },
      { heading: "x", unit: "mm" },
      { heading: "y", unit: "mm" },
      { heading: "height", unit: "µm" },
    ],
    rows: [
      ["F15", "980", "250", "34.1"],
      ["F14", "910", "250", "24.2"],
      ["A8", "490", "0", "−11.0"],
    ],
    foot: [["span", "–", "–", "45.1"]],
    notes: ["heights against the machine's own travel, two readings a place"],
  });
  const cautions = caution("before any bolt of the head is loosened", [
    "Lower the head onto a block or hold it with lifting gear.",
    "Work with a second competent person.",
    "Loosen one bolt at a time where the maker allows it.",
  ]);
  return chapter([
    text(
      "# Is the table flat enough?\n\nThe table of the invented club mill was probed at 90 places, twice. **Answer:** it is hollow along its length, and one corner stands high.\n\n## What was probed\n\n| field | value |\n|---|---|\n| gauge | lever indicator, 1 µm |\n| places | 15 × 6 |\n\nSee [the next chapter](04-decision.ipynb).",
    ),
    code(
      'const sheet = readSurvey("../data/table-before.csv", { gauge: lever });\nsheet.surface()',
      [shown(heights)],
      1,
    ),
    text("## The picture\n\nLook at the hollow along the middle, then at the corner at the back right."),
    code("figure.heightSurface(surface)", [shown(surfaceFigure)], 2),
    code("figure.heightMap(surface)", [shown(mapFigure)], 3),
    text("## What to do\n\nFirst the caution."),
    code("plan.cautions", [shown(cautions)], 4),
    code(
      'finding("…")',
      [
        shown(
          finding(
            "the table is hollow by 23 µm ± 4 µm (k = 2) at the places probed, and corner F15 stands high by 34 µm",
          ),
        ),
      ],
      5,
    ),
    ...more,
  ]);
}

export const failingCell: CodeCell = code(
  "flatness(sheet)",
  [
    {
      output_type: "error",
      ename: "MeasurementError",
      evalue:
        "flatnessDeviation: 2 of 35 survey points have no height (C4, E2); measure them, or leave them out of the list",
      traceback: ["MeasurementError: flatnessDeviation: …", "  at line 1 of this cell"],
    },
  ],
  6,
);

import { describe, expect, it } from "vitest";
import { positioningPlan } from "../../kernel-lib/src/axis/positioning-plan.js";
import type { PositioningPlanOptions } from "../../kernel-lib/src/axis/positioning-plan-options.js";
import { parsePositioning } from "../../kernel-lib/src/axis/positioning-sheet.js";
import { blankSheet, gauge, kelvin, minutes, mm, mmPerMin, slope, um } from "../../kernel-lib/src/index.js";
import { refusal } from "../refusal.js";

const base: PositioningPlanOptions = {
  axis: "X",
  travel: [mm(0), mm(500)],
  lead: mm(5),
  gauge: gauge({ resolution: um(1), maximumPermissibleError: um(3) }),
  reference: {
    name: "stepped bar",
    scaleLimit: slope(um(15), mm(1000)),
    alignmentLimit: slope(um(1), mm(1)),
    temperatureDifferenceLimit: kelvin(0.5),
  },
};
const plan = (more: Partial<PositioningPlanOptions> = {}) => positioningPlan({ ...base, ...more });
const placesOf = (made: ReturnType<typeof plan>) => made.targets.map(({ target }) => target.in("mm"));
const blocks = [1.3, 2.1, 5, 10, 20, 25, 50, 75, 100, 200, 300].map((block) => mm(block));
const turns = (mm: number, lead: number) => Math.abs(mm / lead - Math.round(mm / lead));

describe("targets of a plan", () => {
  it("are five at least and five a metre, rising, inside the travel by the over-travel", () => {
    for (const [length, perMetre, least] of [
      [60, 5, 7],
      [500, 5, 7],
      [1900, 5, 10],
      [500, 20, 10],
    ] as const) {
      const places = placesOf(plan({ travel: [mm(0), mm(length)], perMetre }));
      expect(places.length).toBe(least);
      expect(places).toEqual([...places].sort((a, b) => a - b));
      expect(places[0]!).toBeGreaterThanOrEqual(2);
      expect(places.at(-1)!).toBeLessThanOrEqual(length - 2);
    }
  });

  it("tell every turn of the drive, whatever the seed, and never stand even", () => {
    for (let seed = 1; seed <= 25; seed++) {
      const made = plan({ seed, motorTurn: mm(10 / 3) });
      expect(made.aliased).toEqual([]);
      const gaps = placesOf(made)
        .slice(1)
        .map((at, i) => at - placesOf(made)[i]!);
      expect(Math.max(...gaps) - Math.min(...gaps)).toBeGreaterThan(0.5);
    }
  });

  it("are the same for the same seed, others for another", () => {
    expect(placesOf(plan({ seed: 4 }))).toEqual(placesOf(plan({ seed: 4 })));
    expect(placesOf(plan({ seed: 5 }))).not.toEqual(placesOf(plan({ seed: 4 })));
  });

  it("move with the travel and land on what the control can give", () => {
    const grid = 0.0125;
    for (const at of placesOf(plan({ landOn: mm(grid), travel: [mm(-300.003), mm(200)] }))) {
      expect(Math.abs(at / grid - Math.round(at / grid))).toBeLessThan(1e-9);
    }
  });
});

describe("targets of blocks", () => {
  const made = plan({ blocks, blocksTogether: 4 });
  it("are what the blocks give from the stop, each block once", () => {
    const [stop, ...others] = made.targets;
    expect(stop!.blocks).toEqual([]);
    for (const { target, blocks: stack } of others) {
      const length = stack.reduce((sum, block) => sum + block.in("mm"), 0);
      expect(target.in("mm") - stop!.target.in("mm")).toBeCloseTo(length, 6);
      expect(new Set(stack.map((block) => block.si)).size).toBe(stack.length);
      expect(stack.length).toBeLessThanOrEqual(4);
    }
  });

  it("are no whole number of turns", () => {
    const [stop, ...others] = placesOf(made);
    for (const at of others) expect(turns(at - stop!, 5)).toBeGreaterThanOrEqual(0.1);
  });

  it("are refused where the blocks give whole turns only", () => {
    expect(refusal(() => plan({ blocks: [25, 50, 100, 200, 300].map((block) => mm(block)) }))).toEqual({
      code: "blocks",
      message:
        "positioningPlan: for 6 of 7 targets the blocks give no length near enough that is no whole multiple of 5 mm (turn of the screw); add blocks, a short odd one such as 1.3 mm or a long one, or allow more together",
    });
  });
});

it("runs up and down through all targets, five times", () => {
  const made = plan();
  const count = made.targets.length;
  expect(made.readings.length).toBe(2 * 5 * count);
  expect(made.readings.map(({ order }) => order)).toEqual(made.readings.map((_, i) => i + 1));
  expect(made.readings.slice(0, 2 * count).map(({ target }) => target)).toEqual([
    ...Array.from({ length: count }, (_, i) => i),
    ...Array.from({ length: count }, (_, i) => count - 1 - i),
  ]);
});

it("takes dwell, reading and travel into its time", () => {
  const made = plan({ dwell: minutes(1), timePerReading: minutes(0.5), feed: mmPerMin(1000) });
  const path = 5 * 2 * (made.span.in("mm") + 4);
  expect(made.time.in("min")).toBeCloseTo(1.5 * 70 + path / 1000, 9);
});

it("expects less of a better gauge, and more scatter of a worse one", () => {
  const better = plan({ gauge: gauge({ resolution: um(0.1), maximumPermissibleError: um(0.5) }) });
  expect(better.expected.lostMotion.in("um")).toBeLessThan(plan().expected.lostMotion.in("um") / 3);
  // ± 3 µm, rectangular, k = 2; seven targets, ten readings each, one step of scatter
  const scatter = 2 / Math.sqrt(70);
  expect(plan().expected.lostMotion.in("um")).toBeCloseTo(2 * Math.hypot(3 / Math.sqrt(3), scatter), 9);
});

it("gives a sheet that the reader reads once it is filled in, with all that was known", () => {
  for (const [made, more] of [
    [plan(), ""],
    [plan({ blocks, blocksTogether: 4, reads: "deviation" }), ""],
    [plan({ reads: "position", axis: "Z" }), "position"],
  ] as const) {
    const filled = made
      .toCsv()
      .replace("# sense proven:", "# sense proven: yes")
      .split("\n")
      .map((line) => {
        const cells = line.split(",");
        if (line.startsWith("#") || cells.length < 4 || cells[0] === "target/mm") return line;
        return cells.map((cell, i) => (i === 3 ? (more === "" ? "2" : cells[0]!) : cell)).join(",");
      })
      .join("\n");
    const test = parsePositioning(filled);
    expect(test.targetsMm).toEqual(placesOf(made));
    expect([test.axis, test.runs, test.senseProven]).toEqual([made.axis, 5, true]);
    expect(test.gauge.maximumPermissibleError.in("um")).toBe(3);
    expect(test.reference.scaleLimit!.si).toBe(made.reference.scaleLimit!.si);
    expect(test.reference.temperatureDifferenceLimit!.si).toBe(0.5);
    expect(test.deviations(0, "up")[0]!.in("um")).toBeCloseTo(more === "" ? 2 : 0, 9);
  }
});

it("is refused by the reader as long as it is blank", () => {
  expect(refusal(() => parsePositioning(plan().toCsv(), { name: "x.csv" }))).toEqual({
    code: "blank",
    message: "x.csv line 16, column deviation/um: is blank; every reading is needed, read it again",
  });
});

describe("the printed sheet", () => {
  const made = plan({ blocks, blocksTogether: 4, title: "X <of> the mill" });
  const { document } = blankSheet(made);
  it("has a cell for every reading, its blocks beside it, and each run whole", () => {
    const lines = [...document.matchAll(/<tr class="on"><td>(\d+)<\/td><td><b>([\d.]+)<\/b>/g)];
    expect(lines.map(([, order, at]) => [Number(order), Number(at)])).toEqual(
      made.readings.map(({ order, target }) => [order, made.targets[target]!.target.in("mm")]),
    );
    expect(document).toContain("Run 5, down ▼: come from above the last target");
    expect(document).toContain("300 + 100 + 75 + 2.1");
  });

  it("lets a run that is longer than a column go on in the next", () => {
    const long = blankSheet(plan({ perMetre: 80 })).document;
    for (const column of long.split("<table").slice(1)) {
      expect([...column.matchAll(/<tr class/g)].length).toBeLessThanOrEqual(32);
    }
    expect([...long.matchAll(/<tr class="on">/g)]).toHaveLength(400);
  });

  it("carries the caution, asks for the sense, and runs nothing", () => {
    expect(document).toContain("The axis moves under power: hands out while it moves");
    expect(document).toContain("<b>sense proven</b> one move towards +X");
    expect(document).toContain("X &#60;of&#62; the mill");
    expect(document).not.toMatch(/<(script|img|link|iframe)[\s>]/i);
  });
});

it("says of Z that a test leaves its play hidden, and what the reference does not say", () => {
  const notes = plan({ axis: "Z", reference: { name: "scale" }, cycles: 3 }).notes.join("; ");
  expect(notes).toContain("3 runs each way, where the standard asks for 5");
  expect(notes).toContain("gravity holds this axis on one flank");
  expect(notes).toContain("of scale nothing is said about the error of its length");
});

describe("is refused", () => {
  const cases: readonly (readonly [what: string, more: object, code: string, message: string])[] = [
    [
      "a travel upside down",
      { travel: [mm(500), mm(0)] },
      "positioning-plan",
      "positioningPlan: the travel from 500 mm to 0 mm leaves too little between 2 mm beyond each end; give the low end first and a travel of more than 24 mm, or a smaller overTravel",
    ],
    ["half a cycle", { cycles: 2.5 }, "positioning-plan", "positioningPlan: cycles is 2.5; give a whole number from 2"],
    [
      "no targets",
      { perMetre: Number.NaN },
      "positioning-plan",
      "positioningPlan: perMetre is NaN; give targets a metre, such as 5",
    ],
    [
      "a lead of nothing",
      { lead: mm(0) },
      "period",
      "positioningPlan: turn of the screw is 0 mm; give the travel of one, such as mm(5)",
    ],
    [
      "no gauge",
      { gauge: undefined },
      "positioning-plan",
      "positioningPlan: the gauge is missing; make one with gauge({ resolution: um(1), maximumPermissibleError: um(3) })",
    ],
    [
      "a coarse grid",
      { landOn: mm(40) },
      "positioning-plan",
      "positioningPlan: landOn 40 mm is too coarse for 7 targets on 496 mm; give a smaller one",
    ],
    [
      "a reference without a name",
      { reference: { name: " " } },
      "reference",
      "referenceInputs: the reference has no name; say what carries the length, such as gauge blocks or a glass scale",
    ],
  ];
  it.each(cases)("%s", (_what, more, code, message) => {
    expect(refusal(() => plan(more as Partial<PositioningPlanOptions>))).toEqual({ code, message });
  });
});

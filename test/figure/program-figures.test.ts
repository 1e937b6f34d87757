import { describe, expect, it } from "vitest";
import { program, replay } from "../../kernel-lib/src/facing/index.js";
import { facedMap, programPath } from "../../kernel-lib/src/figure/index.js";
import { mm, umPerM } from "../../kernel-lib/src/quantity/index.js";
import { aJob, aTop } from "../facing/a-job.js";
import { refusal } from "../refusal.js";
import { liveWords, stillWords } from "./words.js";

const job = aJob();
const { text } = program(job);
const tilt = { x: umPerM(0), y: umPerM(100) };
const good = replay(text, job, aTop(job), { tilt, pitch: mm(2) });
const bad = replay(text.replace("M5\nG0", "G0"), job, aTop(job), { pitch: mm(2) });

describe("the way of the cutter", () => {
  it.each(Object.entries({ good: programPath(good), bad: programPath(bad), inch: programPath(good).shownIn("inch") }))(
    "says the same words live and still: %s",
    (_, figure) => {
      const { title, subtitle, axes, edges, lines } = figure.texts;
      for (const words of [liveWords(figure), stillWords(figure)]) {
        for (const said of [title, subtitle, ...axes, ...edges, ...lines]) expect(words).toContain(said);
        for (const { label } of job.screws) expect(words).toContain(label);
        expect(words).toContain("stop");
      }
      expect(figure.still).not.toMatch(/NaN|undefined/);
    },
  );

  it("draws each line of the cutter once, from rim clear to rim clear", () => {
    const feeds = programPath(good).data[1]! as { readonly x: readonly (number | null)[] };
    const ends = feeds.x.filter((x) => x !== null);
    const clear = job.cutter.diameter.in("mm") / 2 + job.runOut.in("mm");
    expect(Math.min(...ends)).toBeCloseTo(job.plate.xFrom.in("mm") - clear, 9);
    expect(Math.max(...ends)).toBeCloseTo(job.plate.xTo.in("mm") + clear, 9);
    // one line where two rounds go the same way; the half-step round shares its outermost two
    const [first, , half] = program(job).rounds.map(({ lanes }) => lanes);
    expect(ends.length).toBe(2 * (first! + half! - 2));
  });

  it("writes the name of each screw right of its ring, on paper of its own", () => {
    const notes = programPath(good).layout.annotations as readonly { text: string; x: number; xshift?: number }[];
    for (const { label, x, headDiameter } of job.screws) {
      const note = notes.find(({ text }) => text === label)!;
      expect(note.x).toBeCloseTo(x.in("mm") + headDiameter.in("mm") / 2, 9);
      expect(note).toMatchObject({ xshift: 2, xanchor: "left", bgcolor: "#f1f0ec" });
    }
  });

  it("says that a program passes, and marks a refused line", () => {
    expect(programPath(good).texts.subtitle).toContain("passes");
    expect(programPath(bad).texts.subtitle).toContain(`${bad.refusals.length} refused`);
  });
});

describe("the faced map", () => {
  it.each(Object.entries({ metric: facedMap(good), inch: facedMap(good).shownIn("inch") }))(
    "says the same words live and still: %s",
    (_, figure) => {
      const { title, axes, edges, lines, marked } = figure.texts;
      for (const words of [liveWords(figure), stillWords(figure)]) {
        for (const said of [title, ...axes, ...edges, ...lines, ...marked]) expect(words).toContain(said);
      }
      expect(figure.still).not.toMatch(/NaN|undefined/);
    },
  );

  it("refuses a program that was stopped before the cut", () => {
    expect(refusal(() => facedMap(bad))).toEqual({
      code: "no-cut",
      message:
        "figure.facedMap: the program of small club plate (invented) was refused before the cut; mend what the replay names first",
    });
  });
});

import { describe, expect, it } from "vitest";
import { facing } from "../../kernel-lib/src/index.js";

/** common practice at a milling machine; what each list has to say, and what it must leave to the others */
const { measuringCautions, axisTestCautions, warmUpCautions, cutCautions, loosenCautions, stoningCautions } = facing;
const text = (list: readonly string[]) => list.join(" ");

describe("the cautions", () => {
  it.each([
    [
      "of a sweep or a survey",
      measuringCautions,
      [
        /take the indicator, its arm and the drawbar spanner off before power comes back/,
        /plug out, or main switch locked; an emergency stop is not isolation/,
        /Turn the spindle by hand only, in neutral/,
        /Hands out of the way while a powered axis moves: single steps, slow feed, the stop in reach/,
      ],
    ],
    [
      "of an axis test",
      axisTestCautions,
      [/Spindle isolated, tool and drawbar spanner out/, /hands out while it moves, single steps, the stop in reach/],
    ],
    [
      "of a cut",
      cutCautions,
      [
        /plug out, or main switch locked; an emergency stop is not isolation/,
        /Drawbar spanner, indicator and arm off before power/,
        /stay below its marked speed, balanced, guarded, nobody in its plane/,
        /Steel screw heads and nuts lie under soft plate: stop at a spark, a bright ring/,
        /stay with the machine/,
        /first pass in single block/,
        /Chips by brush with the spindle stopped; no air line/,
        /eyes protected, no gloves, no rags/,
        /a heavy plate is lifted with help/,
      ],
    ],
    [
      "of a bolt that is loosened",
      loosenCautions,
      [
        /support the head or lower it on a block/,
        /use lifting gear and a second competent person/,
        /one bolt at a time where the maker allows it; no fingers in the gap/,
      ],
    ],
    [
      "of stone and scraper",
      stoningCautions,
      [/Solvent and iron dust: ventilate, no flame/, /Old paint may hold lead/],
    ],
    ["of a warm-up", warmUpCautions, [/No indicator, arm or spanner in or at the spindle while it turns/]],
  ] as const)("%s say what can hurt there", (_name, list, sentences) => {
    for (const sentence of sentences) expect(text(list)).toMatch(sentence);
  });

  it("differ from one another, defer to the maker, local rules and a competent person, and can't be taken out", () => {
    const lists = [measuringCautions, axisTestCautions, warmUpCautions, cutCautions, loosenCautions, stoningCautions];
    expect(new Set(lists.map(text)).size).toBe(lists.length);
    for (const list of lists) {
      expect(list.at(-1)).toMatch(/machine maker's manual, your local rules and a competent person come before/);
      expect(() => (list as string[]).pop()).toThrow(TypeError);
    }
    expect(text(measuringCautions)).not.toMatch(/Fly cutter|Old paint/);
    expect(text(axisTestCautions)).not.toMatch(/Fly cutter|by hand only/);
    expect(text(cutCautions)).not.toMatch(/by hand only|Old paint/);
  });
});

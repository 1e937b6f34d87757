import { describe, expect, it } from "vitest";
import { typingWords } from "../../kernel-lib/src/kernel/compile-hints.js";

const literal = (given: string, needed: string) =>
  `Argument of type '${given}' is not assignable to parameter of type '${needed}'.`;
const unknown = "Object literal may only specify known properties, ";

describe("a typing mistake is told by what to write", () => {
  const cases: readonly (readonly [messages: readonly string[], words: string])[] = [
    [
      ["Cannot find name 'flat'."],
      "nothing is called 'flat' here; run the cell that makes it, mend that cell if it stopped, or mend the name",
    ],
    [
      ["Cannot find name 'survey'."],
      `'survey' is not imported yet; write import { survey } from "dialbook", or run the cell that does`,
    ],
    [["Cannot find name 'Budget'. Did you mean 'budget'?"], "nothing is called 'Budget' here; did you mean 'budget'"],
    [
      ["Property 'corected' does not exist on type 'CorrectedWidth'. Did you mean 'corrected'?"],
      "there is no .corected here; did you mean .corrected",
    ],
    [
      [`Property 'x' does not exist on type 'typeof index_d$7'.`],
      "there is no .x here; Tab after the dot lists what there is",
    ],
    [
      ["Property 'health' does not exist on type 'Promise<Survey>'."],
      "a promise has no .health; write await before what makes it",
    ],
    [
      [
        literal(`{ uper: Quantity<"length">; }`, `Tolerance<"length">`),
        `${unknown}but 'uper' does not exist in type 'Tolerance<"length">'. Did you mean to write 'upper'?`,
      ],
      "'uper' can't be given here; did you mean 'upper'",
    ],
    [
      [literal("{ halfwidth: 1; }", "Limits"), `${unknown}and 'halfwidth' does not exist in type 'Limits'.`],
      "'halfwidth' can't be given here; Tab inside the braces lists what there is, and capitals count",
    ],
    [
      [
        literal("{ after: Survey; }", "NewSurfaceInput"),
        "Type '{ after: Survey; }' is missing the following properties from type 'NewSurfaceInput': before, tolerance",
      ],
      "missing: before, tolerance; give them as well",
    ],
    [
      [
        `Type 'Quantity<"time">' is missing the following properties from type 'Measured<"time">': value, terms, standardUncertainty, and 5 more.`,
      ],
      "a plain quantity was given where one with its uncertainty is needed; give a result, or write Measured.from(input.rectangular({ … }))",
    ],
    [
      [
        literal("{}", "Plate"),
        "Type '{}' is missing the following properties from type 'Plate': name, area, slots, thread, and 4 more.",
      ],
      "missing: name, area, slots, thread and 4 more; give them as well",
    ],
    [
      [
        literal("{ before: Survey; }", "DifferenceInput"),
        "Property 'after' is missing in type '{ before: Survey; }' but required in type 'DifferenceInput'.",
      ],
      "'after' is missing; give it as well",
    ],
    [
      [literal("Promise<Survey>", "SurfaceSource")],
      "a promise was given, not yet its value; write await before what makes it",
    ],
    [[literal("string", "number")], "a text was given where a number is needed; leave its quotation marks out"],
    [
      ["Cannot redeclare block-scoped variable 'a'."],
      "'a' is declared twice in this cell; give one of them another name",
    ],
  ];
  it.each(cases)("%j", (messages, words) => {
    expect(typingWords(messages, ["survey", "form"])).toBe(words);
  });
});

it("leaves complaints about other things to the compiler", () => {
  for (const other of [
    "')' expected.",
    "Type 'number' is not assignable to type 'string'.",
    literal("Flatness", "SurfaceSource"),
  ]) {
    expect(typingWords([other])).toBeUndefined();
  }
  const names = "Type 'Flatness' is missing the following properties from type 'Survey': health, surface";
  expect(typingWords([literal("Flatness", "Survey"), names])).toBeUndefined();
});

import { afterEach, describe, expect, it } from "vitest";
import { displayIn, figure, mm, note, table, um } from "../../kernel-lib/src/index.js";
import { display, type MimeBundle } from "../../kernel-lib/src/quantity/index.js";
import { inUnit, toSi, type Unit, units } from "../../kernel-lib/src/quantity/kinds.js";
import { clubTable } from "../figure/club-table.js";
import { classesThatShow, everyClass } from "./every-class.js";

afterEach(() => void displayIn("metric"));

const shownIn = (system: "metric" | "inch", value: object): string => {
  displayIn(system);
  return (value as { [display](): MimeBundle })[display]()["text/plain"];
};

const byIts: ReadonlyMap<string, Unit> = new Map(
  [units.length, units.volume, units.slope, units.force, units.torque, units.feed, units["cutting speed"], units.mass]
    .flatMap((row) => Object.values<Unit>(row))
    .concat(units.pressure["N/mm2"], units.pressure.GPa, units.pressure.psi)
    .map((unit) => [unit.symbol, unit]),
);
const symbols = [...byIts.keys()].sort((a, b) => b.length - a.length).join("|");
const stated = new RegExp(`(?<![\\w.]|e−)([−-]?\\d+(?:\\.(\\d+))?) (${symbols})(?![\\w/·²³µ°(])`, "g");

/** every value that stands with its unit in a text, in SI, with half a unit of its last digit */
const valuesIn = (text: string) =>
  [...text.matchAll(stated)].map(([said, number, fraction = "", symbol]) => {
    const unit = byIts.get(symbol!)!;
    // a force may end in tens, a place never does
    const tens = symbol === "lbf" ? /0*$/.exec(number!)![0].length : 0;
    const half = toSi({ ...unit, offset: 0 }, 0.5 * 10 ** (fraction === "" ? tens : -fraction.length));
    return { said, si: toSi(unit, Number(number!.replace("−", "-"))), half };
  });

/** what a person wrote on the sheet stays as it is */
const own = (text: string) => text.replace(/^(?:gauge|machine) .*$/gm, "");

const values = Object.entries(everyClass).map(([name, make]) => [name, make()] as const);

it("looks at every public class that shows itself", () => {
  const seen = new Set(values.map(([, value]) => Object.getPrototypeOf(value) as object));
  const missing = [...classesThatShow()].filter(([, prototype]) => !seen.has(prototype)).map(([name]) => name);
  // a handle that rewrites its own line while cells run: test/display/progress.test.ts
  expect(missing).toEqual(["Progress"]);
});

describe.each(values)("%s in inch", (_, value) => {
  it("leaves nothing in mm, µm or °C, and says in HTML what it says in text", () => {
    expect(own(shownIn("inch", value))).not.toMatch(/µm|\bmm\b|mm²|mm³|cm³|°C/);
    displayIn("inch");
    const page = (value as { [display](): MimeBundle })[display]()["text/html"]!.replace(/<style>.*?<\/style>/gs, "");
    expect(own(page.replace(/<[^>]*>/g, "\n"))).not.toMatch(/^(?!.*(?:Z 380|maximum permissible)).*(?:\d µm|\d mm\b)/m);
  });

  it("states the same values as in metric", () => {
    const [metric, inch] = [valuesIn(shownIn("metric", value)), valuesIn(shownIn("inch", value))];
    expect(inch.length).toBe(metric.length);
    for (const [i, { said, si, half }] of metric.entries()) {
      const other = inch[i]!;
      const apart = Math.abs(si - other.si) / (half + other.half);
      expect(apart, `${said} and ${other.said}`).toBeLessThan(1.000001);
    }
  });

  it("is the same again in metric", () => {
    const before = shownIn("metric", value);
    shownIn("inch", value);
    expect(shownIn("metric", value)).toBe(before);
  });
});

describe("the text of a result", () => {
  it.each(values)("of %s has the real minus, and no nought with a sign", (_, value) => {
    // lines of a program are written for a control
    const text = shownIn("metric", value).replace(/^ *\d+ {2}[(A-Z].*$/gm, "");
    expect(text).not.toMatch(/(?<![\w.,:-])-\d/m);
    expect(text).not.toMatch(/−0(?:\.0+)?(?![\d.])/);
  });
});

describe('displayIn("inch")', () => {
  it("redraws a figure that was made before, live and still", () => {
    const map = figure.heightMap(clubTable());
    displayIn("inch");
    const bundle = (map as unknown as { [display](): MimeBundle })[display]();
    expect(bundle["image/svg+xml"]).toBe(map.shownIn("inch").still);
    expect(JSON.stringify(bundle["application/vnd.plotly.v1+json"])).toContain("height/thou");
    expect(map.texts.axes[2]).toBe("height/µm");
  });

  it("leaves the words and tables of the reader as they wrote them", () => {
    expect(shownIn("inch", note("M8 × 25 mm, 3 µm left"))).toBe("M8 × 25 mm, 3 µm left");
    const own = table({ caption: "mine", columns: [{ heading: "x", unit: "mm" }], rows: [[40]] });
    expect(shownIn("inch", own)).toBe("mine\nx/mm\n  40");
  });

  it("prints places in inches and heights in thou, whatever their size", () => {
    const text = shownIn("inch", everyClass.Survey!());
    expect(text).toContain("y \\ x/in");
    expect(text).toContain("readings in thou as they stand");
    expect(text).toContain("resolution 2 µm");
    expect(inUnit(units.length.in, mm(20).si).toFixed(3)).toBe("0.787");
    expect(text).toMatch(/^ +0\.787 +0\.20 /m);
    expect(um(5.08).in("thou")).toBe(0.2);
  });
});

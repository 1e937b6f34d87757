import { describe, expect, it } from "vitest";
import { blankSheet, mm } from "../../kernel-lib/src/index.js";
import { protocolKeys } from "../../kernel-lib/src/survey/sheet.js";
import { refusal } from "../refusal.js";
import { aPlan } from "./a-plan.js";

const plan = aPlan();
const sheet = blankSheet(plan);
const cells = (document: string) => [...document.matchAll(/class="write"/g)].length;

describe("a blank sheet", () => {
  it("has a line for every reading, in order, and a cell for each to write in", () => {
    const lines = [...sheet.document.matchAll(/<tr class="(?:row|on)"><td>(\d+)<\/td><td><b>([^<]+)<\/b>/g)];
    const places = plan.readings.filter(({ visit }) => visit === undefined);
    expect(lines.map(([, order, label]) => [Number(order), label])).toEqual(places.map((r) => [r.order, r.label]));
    const atDatums = plan.readings.length - places.length;
    // a reading and a note at each place, three readings at a datum
    expect(cells(sheet.document)).toBe(2 * places.length + atDatums);
  });

  it("asks for every line of the protocol, and marks all four edges", () => {
    for (const key of protocolKeys) expect(sheet.document).toContain(`<b>${key}</b>`);
    for (const edge of ["FRONT", "BACK", "LEFT", "RIGHT"]) expect(sheet.document).toContain(`>${edge}</text>`);
  });

  it("shows slots, holes and what stands in the way, and says where the stylus is lifted", () => {
    expect(sheet.document).toContain(">vice</text>");
    expect(sheet.document).toContain("Lift the stylus before it meets vice. Lift the stylus over slots and holes.");
    expect(sheet.document).toContain("Not probed: ");
  });

  it("carries the caution", () => {
    expect(sheet.document).toContain("spindle stopped and isolated: plug out or switch locked");
  });

  it("holds nothing that runs or is fetched, whatever the title says", () => {
    const hostile = blankSheet(aPlan({ title: `<script>alert(1)</script><img src=x onerror="y">&'` })).document;
    for (const { document } of [sheet, { document: hostile }]) {
      expect(document).not.toMatch(/<(script|img|link|iframe|object|embed|form|a)[\s>]/i);
      expect(document).not.toMatch(/\surl\(|@import|javascript:|<[^>]*\son\w+=/i);
    }
    expect(hostile).toContain("&#60;script&#62;");
  });

  it("is laid out for A4 and for Letter, in whole pages", () => {
    expect(sheet.document).toContain("@page{size:A4;margin:12mm}");
    const letter = blankSheet(plan, { paper: "Letter" });
    expect(letter.document).toContain("@page{size:letter;margin:12mm}");
    for (const one of [sheet, letter]) expect(one.document.match(/<section class="page">/g)).toHaveLength(one.pages);
    expect(letter.document).toContain(`page ${letter.pages} of ${letter.pages}`);
  });

  it("says what it is and what to do with it", () => {
    expect(`${sheet}`).toBe(
      `table of the small mill: blank sheet for ${plan.readings.length} readings, ${sheet.pages} pages A4; print it, then type the readings into the matching sheet of the plan`,
    );
  });

  it("refuses another paper", () => {
    expect(refusal(() => blankSheet(plan, { paper: "A5" as "A4" })).message).toBe(
      'blankSheet: paper "A5" is not known; write "A4" or "Letter"',
    );
  });

  it("keeps each return to the datums in one column", () => {
    const long = blankSheet(aPlan({ pitch: mm(20), datumPlaces: 3, returnEvery: 7, slots: [], obstacles: [] }));
    const columns = long.document.split("<table").slice(1);
    for (const column of columns) {
      const datums = [...column.matchAll(/class="datum"/g)].length;
      expect(datums % 3).toBe(0);
      expect([...column.matchAll(/class="state"/g)]).toHaveLength(datums / 3);
    }
  });
});

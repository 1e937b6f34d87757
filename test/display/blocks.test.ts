import { describe, expect, it } from "vitest";
import { errorBox } from "../../kernel-lib/src/display/error-box.js";
import { caution, finding, note, table, versions } from "../../kernel-lib/src/display/index.js";
import { stack } from "../../kernel-lib/src/display/present.js";
import { display } from "../../kernel-lib/src/quantity/index.js";

const heights = {
  caption: "highest and lowest",
  columns: [{ heading: "place" }, { heading: "height", unit: "µm" }, { heading: "remark" }],
  rows: [
    ["F15", "34.1", "<raised>"],
    ["A8", -11, "–"],
  ],
  foot: [["span", "45.1", ""]],
  notes: ["against the machine's own travel"],
};

describe("a table", () => {
  it("prints the same rows as text, numbers to the right", () => {
    expect(`${table(heights)}`).toBe(
      [
        "highest and lowest",
        "place  height/µm  remark",
        "F15         34.1  <raised>",
        "A8           −11  –",
        "span        45.1",
        "against the machine's own travel",
      ].join("\n"),
    );
  });

  it("says to a screen reader what heads a column and what heads a row", () => {
    const markup = table(heights)[display]()["text/html"] ?? "";
    expect(markup).toContain("<caption>highest and lowest</caption>");
    expect(markup.match(/<th scope="col"/g)).toHaveLength(3);
    expect(markup.match(/<th scope="row"/g)).toHaveLength(3);
    expect(markup).toContain('<th scope="col" class="db-right">height <span class="db-unit">µm</span></th>');
    expect(markup).toContain("&#60;raised&#62;");
  });

  it("refuses a row that is short and a number that is none", () => {
    expect(() => table({ ...heights, rows: [["F15", "34.1"]] })).toThrow(
      'table "highest and lowest" row 1: 2 cells for 3 columns; give one cell a column',
    );
    expect(() => table({ ...heights, rows: [["F15", Number.NaN, "–"]] })).toThrow(
      'table "highest and lowest" row 1, column height: NaN is not a value; give a finite number, or "–" for a blank',
    );
  });
});

describe("what a notebook shows", () => {
  it("a caution names itself in words and keeps every line", () => {
    const block = caution("reaching under the spindle", ["Isolate the spindle before you reach in."]);
    expect(`${block}`).toBe("CAUTION: reaching under the spindle\n  - Isolate the spindle before you reach in.");
    expect(block[display]()["text/html"]).toContain("Caution:</span> <strong>reaching under the spindle</strong>");
  });

  it("a finding reaches the end of a headless run by its own type", () => {
    const bundle = finding("the table is hollow by 23 µm")[display]();
    expect(bundle["application/vnd.dialbook.finding+json"]).toEqual({ text: "the table is hollow by 23 µm" });
    expect(bundle["text/plain"]).toBe("the table is hollow by 23 µm");
  });

  it("a stack keeps its parts in order and its findings", () => {
    const bundle = stack(caution("dust", []), undefined, finding("one"), "plain", finding("two"));
    expect(bundle["text/plain"]).toBe("CAUTION: dust\n\none\n\nplain\n\ntwo");
    expect(bundle["application/vnd.dialbook.finding+json"]).toEqual({ text: "one; two" });
    expect(bundle["text/html"]?.match(/<style>/g)).toHaveLength(1);
  });

  it("an error box says where, what and what to do, the machine's words last", () => {
    const box = errorBox({
      title: "Not compiled",
      where: "cell 4, line 2",
      sentence: "a < b",
      remedy: "use .isLess",
      detail: "TS2365",
    });
    expect(`${box}`).toBe("Not compiled (cell 4, line 2)\na < b\nuse .isLess\nTS2365");
    expect(box.toHtml().markup).toContain("a &#60; b");
  });

  it("an error box folds the lines of the library away, and has none of them in its text", () => {
    const box = errorBox({ title: "a", where: "b", sentence: "c", hidden: ["mm, dialbook/<x>.js line 3"] });
    expect(`${box}`).toBe("a (b)\nc");
    expect(box.toHtml().markup).toContain(
      "<details><summary>1 line of the library</summary><pre>mm, dialbook/&#60;x&#62;.js line 3</pre></details>",
    );
  });

  it("a note is its sentence", () => {
    expect(`${note("3 places left blank")}`).toBe("3 places left blank");
  });

  it("versions name the checksums of the data used", () => {
    const text = `${versions({ file: { name: "table-before.csv", sha256: "0123456789abcdef".repeat(4), state: "closed" } }, {})}`;
    expect(text).toContain(`Node              ${process.version.slice(1)}`);
    expect(text).toMatch(/^tslab +1\.0\.22 /m);
    expect(text).toContain("table-before.csv  sheet: closed     SHA-256 0123456789abcdef…");
  });
});

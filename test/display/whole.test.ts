import { expect, it } from "vitest";
import { joined, whole } from "../../kernel-lib/src/display/whole.js";

const parts = (text: string) => joined(text).replaceAll("\u00a0", "~").split(" ");

it("keeps a value and its ±, a figure in u, a letter and its figure, a place and a chapter together", () => {
  expect(parts("20.5 µm ± 3.6 µm (k = 2.0) higher")).toEqual(["20.5~µm~±~3.6~µm", "(k~=~2.0)", "higher"]);
  expect(parts("35.3° ± 3.0° and 1.6 µm/m ± 0.9 µm/m")).toEqual(["35.3°~±~3.0°", "and", "1.6~µm/m~±~0.9~µm/m"]);
  expect(parts("off by 0.5 u; u = 0.8 µm")).toEqual(["off", "by", "0.5~u;", "u~=~0.8~µm"]);
  expect(parts("given A 7.5 µm along x, (260, 95) to (340, 95)")).toEqual([
    "given",
    "A~7.5~µm",
    "along~x,",
    "(260,~95)",
    "to",
    "(340,~95)",
  ]);
  expect(parts("in chapter 10, A place, the ± above")).toEqual([
    "in",
    "chapter~10,",
    "A",
    "place,",
    "the",
    "±",
    "above",
  ]);
});

it("keeps dates and names of files whole without a change of their signs, and lets a long name break", () => {
  const spans = (text: string) =>
    [...whole(text).markup.matchAll(/<span class="db-whole">([^<]*)<\/span>/g)].map(([, piece]) => piece);
  expect(spans("odd-second-again.csv: closed on 2026-10-17; SHA-256 ab")).toEqual([
    "odd-second-again.csv",
    "2026-10-17",
    "SHA-256",
  ]);
  expect(spans("table-2027-01-23.csv and record-table.jsonl")).toEqual(["table-2027-01-23.csv", "record-table.jsonl"]);
  expect(spans(`${"a-".repeat(20)}b.csv, 20261-10-17, T-slot, re-survey`)).toEqual([]);
  expect(whole("<b> on 2026-10-17 & after").markup).toBe(
    '&#60;b&#62; on <span class="db-whole">2026-10-17</span> &#38; after',
  );
});

import { expect, it } from "vitest";
import { fileNameOf } from "../../kernel-lib/page/figure-saving.js";
import { hostile } from "../hostile.js";

const named = (text: unknown) => fileNameOf({ data: [], layout: { title: { text } } });

it("names the file of a figure by its title, in signs that every system takes", () => {
  expect(named("<b>Club mill table, before</b><br><span>heights × 2000</span>")).toBe("club-mill-table-before");
  expect(named("<b>Größe &amp; Form<br>der Platte</b>")).toBe("gro-e-form-der-platte");
  for (const text of ["<b>表面</b>", "<b></b>", "", undefined, 5, {}]) expect(named(text)).toBe("figure");
  expect(fileNameOf({ data: [], layout: {} })).toBe("figure");
  for (const text of [hostile, "../../x", "con\\aux:".repeat(40)])
    expect(named(`<b>${text}</b>`)).toMatch(/^[a-z0-9](?:[a-z0-9-]{0,58}[a-z0-9])?$/);
});

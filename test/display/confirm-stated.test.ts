import { describe, expect, it } from "vitest";
import { confirmStated } from "../../kernel-lib/src/display/index.js";
import { mm, um } from "../../kernel-lib/src/quantity/index.js";

describe("a stated number", () => {
  it.each([
    [um(23.4), "23 µm"],
    [um(23.4), "23.4 um".replace("um", "μm")],
    [um(-3.5), "-3.5 µm"],
    ["23.4 µm ± 3.9 µm (k = 2)", "23 µm ± 4 µm (k = 2)"],
    ["not decided", "not decided"],
    ["2.45 µm", "2.5 µm"],
    [35, "35"],
  ])("%s agrees with %s", (computed, stated) => {
    expect(`${confirmStated(computed, stated)}`).toBe(`stated and computed agree: ${stated}`);
  });

  it.each([
    [um(23.4), "24 µm"],
    [um(23.4), "23 mm"],
    [um(-3.5), "3.5 µm"],
    ["23.4 µm ± 3.9 µm (k = 2)", "23 µm ± 4 µm (k = 3)"],
    ["23 µm", "23.0 µm"],
    ["conforms", "does not conform"],
    ["2.45 µm", "2.4 µm"],
    ["23 µm ± 4 µm", "23 µm"],
    ["12 µm", "120 µm"],
  ])("%s differs from %s", (computed, stated) => {
    expect(() => confirmStated(computed, stated)).toThrow(
      `confirmStated: the text says "${stated}", the cells compute "${computed}"; correct the text or find what changed`,
    );
  });

  it("is not compared with a thing that has no text", () => {
    expect(() => confirmStated({}, "23 µm")).toThrow(
      'confirmStated: the value given to compare with "23 µm" has no text of its own; give one of its figures',
    );
  });

  it("carries its code", () => {
    expect(() => confirmStated(mm(1), "2 mm")).toThrow(expect.objectContaining({ code: "stated-differs" }));
  });
});

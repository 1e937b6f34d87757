import { expect, it } from "vitest";
import { capScrew } from "../../kernel-lib/src/facing/cap-screw.js";
import { fixture } from "../reference/digits.js";
import { refusal } from "../refusal.js";

type Published = { heading: (keyof Omit<ReturnType<typeof capScrew>, "thread">)[] } & { [thread: string]: string[] };
const published = fixture<Published>("machining/socket-cap-screws.json");

it.each(["M5", "M6", "M8", "M10"])("gives the published head and hole of %s", (thread) => {
  const screw = capScrew(thread);
  const got = published.heading.map((column) => String(Number(screw[column].in("mm").toPrecision(12))));
  expect(got).toEqual(published[thread]);
});

it("refuses a thread that is not in its table", () => {
  expect(refusal(() => capScrew("M7"))).toEqual({
    code: "unknown-thread",
    message:
      'capScrew: "M7" is not in the table of ISO 4762 heads; use M5, M6, M8, M10, or give headHeight from your own screw',
  });
});

it("is not fooled by the name of an inherited member", () => {
  expect(refusal(() => capScrew("toString")).code).toBe("unknown-thread");
});

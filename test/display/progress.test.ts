import { afterEach, describe, expect, it } from "vitest";
import { connectChannel } from "../../kernel-lib/src/display/channel.js";
import { Progress, type ProgressState, progress, progressText } from "../../kernel-lib/src/display/progress.js";

/** a clock moved by hand, and what was shown at which time */
function bench(): { clock: { ms: number }; shown: [number, ProgressState | undefined][]; handle: Progress } {
  const clock = { ms: 0 };
  const shown: [number, ProgressState | undefined][] = [];
  const handle = new Progress(1000, "simulating", {
    now: () => clock.ms,
    show: (state) => {
      shown.push([clock.ms, state]);
    },
  });
  return { clock, shown, handle };
}

afterEach(() => connectChannel(undefined));

describe("progress", () => {
  it("stays silent for half a second, then shows at most five times a second", () => {
    const { clock, shown, handle } = bench();
    for (let i = 0; i < 1000; i++) {
      clock.ms += 2;
      handle.tick();
    }
    handle.done();
    const times = shown.slice(0, -1).map(([ms]) => ms);
    expect(times[0]).toBe(500);
    expect(times.slice(1).every((ms, i) => ms - times[i]! >= 200)).toBe(true);
    expect(times).toHaveLength(8);
    expect(shown.at(-1)).toEqual([2000, undefined]);
  });

  it("shows nothing at all for a short loop", () => {
    const { clock, shown, handle } = bench();
    for (let i = 0; i < 1000; i++) {
      clock.ms += 0.4;
      handle.tick();
    }
    handle.done();
    expect(shown).toEqual([]);
  });

  it("tells the time left from the pace so far", () => {
    const { clock, shown, handle } = bench();
    clock.ms = 1000;
    handle.tick(250);
    expect(progressText(shown[0]![1]!)).toBe("simulating: 250 of 1000, about 3 s left");
  });

  it("stops at the next step when cancelled, and takes its line away", () => {
    const { clock, shown, handle } = bench();
    clock.ms = 600;
    handle.tick(10);
    handle.cancel();
    expect(() => handle.tick()).toThrow("simulating: stopped at 10 of 1000; run it again for the whole");
    expect(shown.at(-1)?.[1]).toBeUndefined();
  });

  it("reckons with the number that a calculation has come to expect", () => {
    const { clock, shown, handle } = bench();
    clock.ms = 1000;
    handle.expect(500);
    handle.tick(250);
    expect(progressText(shown[0]![1]!)).toBe("simulating: 250 of 500, about 1 s left");
    clock.ms = 2000;
    handle.tick(300);
    expect(progressText(shown[1]![1]!)).toBe("simulating: 550 of 550, about 0 s left");
    expect(() => handle.expect(Number.NaN)).toThrow(
      'progress "simulating": NaN steps expected; give a number above zero',
    );
  });

  it("needs a number of steps", () => {
    expect(() => progress(0, "simulating")).toThrow('progress "simulating": 0 steps in all; give a number above zero');
    expect(() => progress(Number.NaN, "x")).toThrow('progress "x": NaN steps in all; give a number above zero');
  });

  it("is one display that is replaced in a notebook, and nothing in a run without a front end", async () => {
    for (const headless of [false, true]) {
      const calls: string[] = [];
      connectChannel({
        session: "s",
        headless,
        show: (_, id) => calls.push(`show ${id}`),
        update: (_, id) => calls.push(`update ${id}`),
      });
      const handle = progress(3, "simulating");
      await new Promise((resolve) => setTimeout(resolve, 520));
      handle.tick();
      handle.done();
      expect(calls.map((call) => call.split(" ")[0])).toEqual(headless ? [] : ["show", "update"]);
      expect(new Set(calls.map((call) => call.split(" ")[1])).size).toBe(headless ? 0 : 1);
    }
  });
});

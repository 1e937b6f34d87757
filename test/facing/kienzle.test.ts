import { expect, it } from "vitest";
import { kienzle, meanChip } from "../../kernel-lib/src/facing/kienzle.js";
import { program } from "../../kernel-lib/src/facing/program.js";
import { area } from "../../kernel-lib/src/facing/reach.js";
import { replay } from "../../kernel-lib/src/facing/replay.js";
import { ridges } from "../../kernel-lib/src/facing/ridges.js";
import { MPa, mm, umPerM } from "../../kernel-lib/src/quantity/index.js";
import { fixture } from "../reference/digits.js";
import { refusal } from "../refusal.js";
import { aJob, aTop } from "./a-job.js";

const { source: _, chipMm, ...materials } = fixture<{ [name: string]: string[] }>("machining/specific-force.json");

it.each(Object.entries(materials))(
  "follows the published forces of %s within 6 %%, as far as the table itself is a power law",
  (_name, printed) => {
    const law = kienzle(chipMm!.map((chip, i) => ({ chip: mm(Number(chip)), force: MPa(Number(printed[i])) })));
    for (const [i, chip] of chipMm!.entries()) {
      expect(Math.abs(law.at(mm(Number(chip))).in("MPa") / Number(printed[i]) - 1)).toBeLessThan(0.06);
    }
    expect(law.at(mm(0.01)).si).toBe(law.at(mm(0.05)).si);
  },
);

it("keeps the volume: mean chip × arc = feed per tooth × width", () => {
  for (const width of [1, 10, 25, 40, 50]) {
    const chip = meanChip({ feedPerTooth: mm(0.1), engagedWidth: mm(width), cutterDiameter: mm(50) }).in("mm");
    expect(chip * 25 * Math.acos(1 - width / 25)).toBeCloseTo(0.1 * width, 12);
  }
});

it("refuses a table that gives no law and a width that is no part of the cutter", () => {
  expect(refusal(() => kienzle([{ chip: mm(0.1), force: MPa(500) }]))).toEqual({
    code: "kienzle",
    message:
      "kienzle: 1 row gives no law; give two or more different chip thicknesses with their forces, all above zero",
  });
  const wide = { feedPerTooth: mm(0.1), engagedWidth: mm(60), cutterDiameter: mm(50) };
  expect(refusal(() => meanChip(wide)).code).toBe("engagement");
});

it.each([
  [0, 133],
  [133, 0],
  [133, 133],
])("replays the ridges that the envelope predicts, lean %d and %d µm/m", (along, across) => {
  const job = aJob({ rounds: [{ depth: mm(0.4) }], plate: area(mm(50), mm(110), mm(30), mm(130)), screws: [] });
  const made = program(job);
  const tilt = { x: umPerM(along), y: umPerM(across) };
  const got = replay(made.text, job, aTop(job), { tilt, pitch: mm(0.25) }).cut!.ridges.in("um");
  const stepOver = made.rounds[0]!.stepOver;
  const said = ridges({ cutterRadius: mm(20), stepOver, tiltAlongFeed: tilt.x, tiltAcrossFeed: tilt.y }).height.in(
    "um",
  );
  expect(Math.abs(got - said)).toBeLessThan(0.05 * said + 0.02);
});

it("leaves the strip outside the last pass high by diameter less step-over less run-out, times the lean", () => {
  const job = aJob({ rounds: [{ depth: mm(0.4) }], plate: area(mm(50), mm(110), mm(30), mm(130)), screws: [] });
  const made = program(job);
  const { texture, ridges: between } = replay(made.text, job, aTop(job), {
    tilt: { x: umPerM(0), y: umPerM(133) },
    pitch: mm(0.25),
  }).cut!;
  const high = (40 - made.rounds[0]!.stepOver.in("mm") - job.runOut.in("mm")) * 0.133;
  // a cell of 0.25 mm at either end
  expect(Math.abs(texture.in("um") - between.in("um") - high)).toBeLessThan(0.07);
});

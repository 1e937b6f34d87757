import { expect, it } from "vitest";
import { deg, mm, um } from "../../kernel-lib/src/quantity/index.js";
import { gauge } from "../../kernel-lib/src/survey/gauge.js";
import { gaugeInputs } from "../../kernel-lib/src/survey/gauge-inputs.js";
import { budget } from "../../kernel-lib/src/uncertainty/index.js";
import { refusal } from "../refusal.js";

const plain = { name: "indicator", resolution: um(1), maximumPermissibleError: um(3) };
const labels = (...given: Parameters<typeof gaugeInputs>) => gaugeInputs(...given).map((i) => i.label);

it("brings resolution and maximum permissible error, and repeatability instead of the resolution where it is coarser", () => {
  expect(labels(gauge(plain))).toEqual(["indicator, resolution", "indicator, maximum permissible error"]);
  const coarse = gauge({ ...plain, repeatability: { standardDeviation: um(2), degreesOfFreedom: 9 } });
  const [repeats] = gaugeInputs(coarse, { readings: 4 });
  expect(repeats).toMatchObject({ label: "indicator, repeatability", degreesOfFreedom: 9 });
  expect(repeats!.standardUncertainty.in("um")).toBeCloseTo(1, 12);
  const fine = gauge({ ...plain, repeatability: { standardDeviation: um(0.1), degreesOfFreedom: 9 } });
  // q/√12, JCGM 100 F.2.2.1, however many readings
  expect(gaugeInputs(fine, { readings: 100 })[0]!.standardUncertainty.in("um")).toBeCloseTo(1 / Math.sqrt(12), 12);
});

it("brings hysteresis only where the approach mixes, and refuses to leave it out then", () => {
  const known = gauge({ ...plain, hysteresis: um(2) });
  expect(labels(known)).not.toContain("indicator, hysteresis");
  expect(labels(known, { approach: "mixed" })).toContain("indicator, hysteresis");
  expect(refusal(() => gaugeInputs(gauge(plain), { approach: "mixed" }))).toEqual({
    code: "gauge-use",
    message:
      "gaugeInputs: the approach mixes and indicator states no hysteresis; find it by approaching one place from both sides, or approach from the same side",
  });
});

it("brings the doubt of the angles on the reading they act on", () => {
  const tilted = (given: object) =>
    gaugeInputs(gauge({ ...plain, ...given }), { reading: mm(0.2), angleLimit: deg(5) }).at(-1)!;
  // 1 − cos 5° = 0.003805 (any table of cosines), of 200 µm, over √3
  expect(tilted({}).standardUncertainty.in("um")).toBeCloseTo((200 * 0.003805) / Math.sqrt(3), 3);
  // lever at 15°: cos 20° / cos 15° = 0.93969 / 0.96593
  expect(tilted({ leverAngle: deg(15) }).standardUncertainty.in("um")).toBeCloseTo(
    (200 * (0.003805 + 1 - 0.93969 / 0.96593)) / Math.sqrt(3),
    2,
  );
});

it("goes into a budget as it stands", () => {
  const [resolution, scale] = gaugeInputs(gauge(plain));
  const inputs = { resolution: resolution!, scale: scale! };
  const height = budget({ measurand: "height", inputs, model: (i) => i.resolution.plus(i.scale) });
  expect(height.standardUncertainty.in("um")).toBeCloseTo(Math.hypot(1 / Math.sqrt(12), Math.sqrt(3)), 9);
});

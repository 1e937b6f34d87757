// The planted truth behind the invented data of the Tinmoor Lane club workshop, as functions; invent.mjs turns it into
// sheets. Plain JavaScript that imports nothing of the package.

export const scenarioSeed = 20261017;

/** rows of the table survey, front to back: every row lies on a land between T-slots (slots at y 45, 120 and 195 mm) */
const rows = [20, 70, 95, 145, 170, 220];
const columns = Array.from({ length: 13 }, (_, i) => 20 + 40 * i);

/** Counter-based generator (a Weyl sequence through a 32-bit finaliser), of this file alone. */
export function generator(seed) {
  let state = seed >>> 0;
  const uniform = () => {
    state = (state + 0x9e3779b9) >>> 0;
    let z = state;
    z = Math.imul(z ^ (z >>> 16), 0x21f0aaad);
    z = Math.imul(z ^ (z >>> 15), 0x735a2d97);
    return ((z ^ (z >>> 15)) >>> 0) / 4294967296;
  };
  const normal = () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
  return { uniform, normal, between: (low, high) => low + (high - low) * uniform() };
}

/** The truth: fixed for the scenario, drawn about it for any other seed. Heights in µm, places in mm. */
export function planted(seed) {
  const draw = generator(seed ^ 0x5eed);
  const isScenario = seed === scenarioSeed;
  const vary = isScenario ? () => 1 : () => draw.between(0.4, 1.6);
  const phase = draw.between(0, 2 * Math.PI);
  return {
    seed,
    tiltXUmPerM: 42 * vary(),
    tiltYUmPerM: -55 * vary(),
    hollowAlongXUm: 11.5 * vary(),
    twistCornerUm: 7 * vary(),
    crossBowUm: 1.5 * vary(),
    ding: { xMm: 62, yMm: 27, rimRadiusMm: 8, rimWidthMm: 2.5, rimHeightUm: 24 * vary(), pitDepthUm: 40 * vary() },
    warmUp: { riseUm: 9 * vary(), timeConstantMin: 35 * vary() },
    noiseUm: 0.9 * vary(),
    gaugeError: isScenario ? { amplitudeUm: 1.2, periodUm: 55, phase } : someGaugeError(draw, phase),
    swarf: { place: "D9", pass: 1, heightUm: 14 },
    notProbed: "E4",
    stonedRimUm: 1.5,
    plate: { twistCornerUm: 1.6 * vary(), hollowAlongXUm: 1.8 * vary(), textureUm: 0.6 * vary() },
  };
}

/** any smooth error within the ± 4 µm that the gauge's maker allows */
function someGaugeError(draw, phase) {
  return { amplitudeUm: draw.between(0, 4), periodUm: draw.between(30, 160), phase };
}

/** Height of the table against the travel: what a perfect gauge would read. */
export function trueHeight(truth, x, y, rimHeightUm = truth.ding.rimHeightUm) {
  const u = (x - 260) / 240;
  const v = (y - 120) / 100;
  const { ding } = truth;
  const r = Math.hypot(x - ding.xMm, y - ding.yMm);
  const rim = rimHeightUm * Math.exp(-(((r - ding.rimRadiusMm) / ding.rimWidthMm) ** 2));
  const pit = ding.pitDepthUm * Math.exp(-((r / (ding.rimRadiusMm / 2)) ** 2));
  const tilt = (truth.tiltXUmPerM * (x - 260) + truth.tiltYUmPerM * (y - 120)) / 1000;
  const bows = truth.hollowAlongXUm * (u * u - 1) + truth.crossBowUm * (1 - v * v);
  return tilt + bows + (truth.twistCornerUm / 4) * u * v + rim - pit;
}

/** Height of the faced plate as the same machine sees it. */
export function trueHeightOfPlate(truth, x, y) {
  const u = (x - 260) / 220;
  const v = (y - 120) / 90;
  const { plate } = truth;
  const lines = plate.textureUm * Math.sin((2 * Math.PI * y) / 37);
  return plate.hollowAlongXUm * (u * u - 1) + (plate.twistCornerUm / 4) * u * v + lines;
}

export function tablePlaces() {
  return rows.flatMap((y, row) => columns.map((x, column) => ({ place: `${"ABCDEF"[row]}${column + 1}`, x, y })));
}

export function platePlaces() {
  const xs = Array.from({ length: 10 }, (_, i) => 53 + 46 * i);
  return [40, 80, 120, 160, 200].flatMap((y, row) =>
    xs.map((x, column) => ({ place: `${"ABCDE"[row]}${column + 1}`, x, y })),
  );
}

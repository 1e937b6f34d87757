import { uniforms } from "../../generate.mjs";

// The model of W5 and W6: a length gauge compared with a standard, by name of the input, in the order of the columns.
export const estimates = [50.000623, 215e-6, 0, -0.1, 0, 11.5e-6, 0, 0];
export const widths = [25e-6, 9.7e-6, 10e-6, 0.2, 0.5, 2e-6, 1e-6, 0.05];
export const degreesOfFreedom = [18, 24, 50, 8, 12, 30, 20, 10];

/** value in µm above 50 mm */
export function comparison(standard, difference, constant, mean, swing, alpha, alphaDifference, heatDifference) {
  return (
    (standard - 50 - standard * (alphaDifference * (mean + swing) + alpha * heatDifference) + difference + constant) *
    1000
  );
}

const divisors = [1, 1, 3, 1, 2, 3, 6, 3];

/** estimates and standard uncertainties of variation after variation, eight each */
export function variations(seed, count) {
  const draws = uniforms(seed, 0, 16 * count);
  const own = new Float64Array(8 * count);
  const spreads = new Float64Array(8 * count);
  for (let k = 0; k < count; k++) {
    for (let i = 0; i < 8; i++) {
      own[8 * k + i] = estimates[i] + widths[i] * (draws[16 * k + i] - 0.5);
      spreads[8 * k + i] = (widths[i] / Math.sqrt(divisors[i])) * (0.75 + 0.5 * draws[16 * k + 8 + i]);
    }
  }
  return { estimates: own, spreads };
}
